"""The progress of a press, as calls that a bar or plain lines can show."""

from __future__ import annotations

from typing import Protocol


class Progress(Protocol):
    def begin(self, stage: str, total: int | None = None) -> None:
        """A stage starts; total: how many steps it has, None where that is not known beforehand."""

    def step(self, count: int = 1) -> None:
        """So many steps of the present stage are done."""


class Silent:
    """Says nothing."""

    def begin(self, stage: str, total: int | None = None) -> None:
        pass

    def step(self, count: int = 1) -> None:
        pass
