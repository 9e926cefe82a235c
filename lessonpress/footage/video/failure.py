"""What is raised when a video cannot give what was asked of it."""

from __future__ import annotations


class FootageError(Exception):
    """reason: what is the matter, one clause without a full stop. way_out: what to do about it, likewise."""

    def __init__(self, reason: str, way_out: str) -> None:
        super().__init__(reason, way_out)
        self.reason = reason
        self.way_out = way_out

    def __str__(self) -> str:
        return f"{self.reason}; {self.way_out}"
