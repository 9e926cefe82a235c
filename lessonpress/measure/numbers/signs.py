"""The sign of a number in words: positive is toward the target (or the ball) and up."""

from __future__ import annotations

from typing import Literal

from lessonpress.records import Axis

Goal = Literal["target", "ball"]


def way(value: float, axis: Axis | None, goal: Goal) -> str:
    """ "toward the target", "away from the target", "up", "down"; "" for no axis, "straight" and for zero."""
    if value == 0 or axis in (None, "straight"):
        return ""
    if axis == "plumb":
        return "up" if value > 0 else "down"
    return f"toward the {goal}" if value > 0 else f"away from the {goal}"


# what an author may write after a range, and the sign it gives
SIGN_OF_WORD = {"toward": +1, "towards": +1, "away": -1, "up": +1, "down": -1}
AXIS_OF_WORD: dict[str, Axis] = {
    "toward": "level",
    "towards": "level",
    "away": "level",
    "up": "plumb",
    "down": "plumb",
}


def sign_of(word: str) -> int:
    """+1 or -1 for the first word of a way as written: "away", "away from the target", "up"."""
    return SIGN_OF_WORD[word.split()[0]]
