"""Where a golfer's marks lie before or behind the subject plane, when the card does not say.

Fractions of stature, toward the camera. From segment lengths of Winter, Biomechanics and Motor Control of
Human Movement, after Drillis and Contini 1966 (shoulder breadth 0.259, hip breadth 0.191, upper arm 0.186,
forearm 0.146, thigh 0.245, shank 0.246), and a golfer's posture: trunk bent 35° toward the ball, arms
hanging, knees flexed, feet half a stance each side of the middle.
"""

from __future__ import annotations

from dataclasses import dataclass

from lessonpress.records.view import View

STATURE = 1.75  # m, where the card has none
STATURE_U = 0.10
STATED_STATURE_U = 0.02  # m: shoes, posture and memory


@dataclass(frozen=True)
class Posture:
    """depth: best value; shared: u of what is common to all frames; per_frame: u of the turn of the body."""

    depth: float
    shared: float
    per_frame: float


FACE_ON = {
    "heel": Posture(-0.05, 0.02, 0.02),
    "ankle": Posture(0.00, 0.02, 0.02),
    "toe": Posture(0.10, 0.02, 0.02),
    "knee": Posture(0.03, 0.04, 0.04),
    "hip": Posture(-0.05, 0.03, 0.04),
    "navel": Posture(0.00, 0.03, 0.02),
    "c7": Posture(0.12, 0.04, 0.03),
    "head": Posture(0.15, 0.04, 0.03),
    "shoulder": Posture(0.12, 0.05, 0.06),
    "elbow": Posture(0.14, 0.05, 0.06),
    "wrist": Posture(0.20, 0.05, 0.08),
    "implement-grip": Posture(0.20, 0.05, 0.08),
    "implement-head": Posture(0.29, 0.08, 0.22),
    "ball": Posture(0.42, 0.06, 0.00),
}
# Down the line the camera stands on the trail side: trail marks as written, lead marks with the other sign.
DOWN_THE_LINE = {
    "heel": Posture(0.14, 0.04, 0.02),
    "ankle": Posture(0.14, 0.04, 0.02),
    "toe": Posture(0.14, 0.04, 0.02),
    "knee": Posture(0.11, 0.05, 0.04),
    "hip": Posture(0.09, 0.04, 0.06),
    "navel": Posture(0.00, 0.05, 0.06),
    "c7": Posture(0.00, 0.05, 0.04),
    "head": Posture(0.00, 0.05, 0.04),
    "shoulder": Posture(0.10, 0.05, 0.06),
    "elbow": Posture(0.08, 0.08, 0.09),
    "wrist": Posture(0.06, 0.08, 0.13),
    "implement-grip": Posture(0.06, 0.08, 0.13),
    "implement-head": Posture(0.10, 0.10, 0.30),
    "ball": Posture(0.00, 0.03, 0.00),
}
OTHER = {"face-on": Posture(0.05, 0.10, 0.06), "down-the-line": Posture(0.00, 0.12, 0.08)}
SAME_ON_BOTH_SIDES = ("wrist",)  # both hands hold one grip
ALIASES = {"crown": "head"}


def bare(mark: str) -> str:
    """The mark without its side: "lead-hip" gives "hip"."""
    for side in ("lead-", "trail-"):
        if mark.startswith(side):
            return mark.removeprefix(side)
    return mark


def known(mark: str) -> bool:
    """Whether the table has a row for this mark."""
    part = bare(mark)
    return ALIASES.get(part, part) in FACE_ON


def posture(mark: str, view: View) -> Posture:
    """The table's row for a mark in a view, with its sign: depth positive toward the camera.

    From behind the face-on signs are turned round, from the target those down the line.
    """
    part = ALIASES.get(bare(mark), bare(mark))
    along = view in ("down-the-line", "from-target")
    row = (DOWN_THE_LINE if along else FACE_ON).get(part) or OTHER["down-the-line" if along else "face-on"]
    sign = -1 if view in ("from-behind", "from-target") else 1
    if along and mark.startswith("lead-") and part not in SAME_ON_BOTH_SIDES:
        sign = -sign
    return Posture(sign * row.depth, row.shared, row.per_frame)
