"""What a validator raises when a value cannot be what it should."""

from __future__ import annotations

from collections.abc import Iterable


class WrongError(ValueError):
    """What is wrong, what would be right, and near names; the place is added by whoever reads."""

    def __init__(self, wrong: str, right: str = "", near: Iterable[str] = ()) -> None:
        super().__init__(wrong)
        self.wrong, self.right, self.near = wrong, right, tuple(near)
