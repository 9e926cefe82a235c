"""A measure that cannot be honest: false in a condition, with its reason and the way out."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True)
class Refusal:
    """Why a number is not given, and what would make it possible.

    reason, way_out: one clause each without a full stop, fit for a table's cell and for a warning. otherwise:
    the reason with its lengths in the other units.
    """

    reason: str
    way_out: str
    otherwise: str = ""

    def __bool__(self) -> bool:
        return False

    def __str__(self) -> str:
        return f"not measured: {self.reason} ({self.way_out})"


class RefusedError(Exception):
    """Carries a refusal out of a calculation to the survey's door; it never leaves the room."""

    def __init__(self, reason: str, way_out: str) -> None:
        super().__init__(reason)
        self.refusal = Refusal(reason, way_out)
