"""Holds in memory what was used last of many things, up to a weight in all."""

from __future__ import annotations

from collections.abc import Hashable
from typing import Generic, TypeVar

_K = TypeVar("_K", bound=Hashable)
_V = TypeVar("_V")


class Held(Generic[_K, _V]):
    """most: what all may weigh together; the thing that came last is held however heavy it is."""

    def __init__(self, most: int) -> None:
        self._most, self._weight = most, 0
        self._things: dict[_K, tuple[_V, int]] = {}  # used longest ago first

    def __contains__(self, key: _K) -> bool:
        return key in self._things

    def __getitem__(self, key: _K) -> _V:
        thing = self._things[key] = self._things.pop(key)
        return thing[0]

    def hold(self, key: _K, value: _V, weight: int = 1) -> int:
        """Holds a thing; how many others are let go for it."""
        if key in self._things:
            self._weight -= self._things.pop(key)[1]
        self._things[key] = (value, weight)
        self._weight += weight
        gone = 0
        while self._weight > self._most and len(self._things) > 1:
            self._weight -= self._things.pop(next(iter(self._things)))[1]
            gone += 1
        return gone
