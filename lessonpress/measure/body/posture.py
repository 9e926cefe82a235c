"""Where a golfer's marks lie before or behind the subject plane, when the card does not say.

Fractions of stature, toward the camera. The best values come from segment lengths of Winter, Biomechanics
and Motor Control of Human Movement, after Drillis and Contini 1966 (shoulder breadth 0.259, hip breadth
0.191, upper arm 0.186, forearm 0.146, thigh 0.245, shank 0.246), and a golfer's posture. Up to impact: trunk
bent 35° toward the ball, arms hanging or carried back over the trail shoulder, knees flexed, feet half a
stance each side of the middle. After impact: the body turns on until it stands upright over the lead foot and
faces the target, so that what was half a breadth to the side is half a breadth before or behind.

What the u rest on: no published source says how golfers differ. They were set so that every mark of the drawn
swingers, seen from both sides at all moments of the swing, lies within about 2 u of its row, with a root mean
square under 1 u; shared is the part in which one golfer differs from another, per_frame the turn of the body.
One recorded swing of one golfer, face-on and down the line, showed where the rows were too sure: hips and
navel 0.06 farther forward throughout, the trail elbow 0.19 behind its row at the top, where the lead one goes
the other way, and the lead hip at the top outside its row down the line. One golfer gives a direction and no
figure: those rows were moved by a third of it or so, parted by side, and widened until they hold that swing
as well.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import lru_cache

from lessonpress.records import View

STATURE = 1.75  # m, where the card has none
STATURE_U = 0.10
STATED_STATURE_U = 0.02  # m: shoes, posture and memory


@dataclass(frozen=True)
class Posture:
    """depth: best value; shared: u of what is common to all frames; per_frame: u of the turn of the body."""

    depth: float
    shared: float
    per_frame: float


Table = dict[str, Posture]
# Rows by mark without its side, or by side where the two sides do unlike things.
FACE_ON: Table = {
    "heel": Posture(-0.05, 0.02, 0.02),
    "ankle": Posture(0.00, 0.02, 0.02),
    "toe": Posture(0.10, 0.02, 0.02),
    "knee": Posture(0.03, 0.04, 0.04),
    "hip": Posture(-0.03, 0.05, 0.04),
    "navel": Posture(0.02, 0.05, 0.02),
    "c7": Posture(0.12, 0.04, 0.03),
    "head": Posture(0.15, 0.04, 0.03),
    "crown": Posture(0.20, 0.05, 0.03),  # beyond the head: the eyes look down at the ball
    # 0.12 when square; the chest's turn carries the lead one toward the ball and the trail one away
    "lead-shoulder": Posture(0.17, 0.05, 0.05),
    "trail-shoulder": Posture(0.07, 0.05, 0.05),
    # at the top the lead one goes toward the ball with its shoulder, the trail one behind the body
    "lead-elbow": Posture(0.14, 0.05, 0.06),
    "trail-elbow": Posture(0.06, 0.06, 0.08),
    # under the shoulders or a little outside them at the ball, over the trail shoulder at the top
    "wrist": Posture(0.14, 0.05, 0.08),
    "implement-grip": Posture(0.14, 0.05, 0.08),
    # from the ball, 0.42, to behind the shoulders, −0.2
    "implement-head": Posture(0.16, 0.08, 0.24),
    "ball": Posture(0.42, 0.06, 0.00),
}
FACE_ON_AFTER: Table = {
    "trail-heel": Posture(0.03, 0.02, 0.04),
    "trail-ankle": Posture(0.06, 0.02, 0.03),
    "lead-knee": Posture(-0.02, 0.04, 0.04),
    "trail-knee": Posture(0.16, 0.04, 0.05),
    "lead-hip": Posture(-0.10, 0.05, 0.04),
    "trail-hip": Posture(0.05, 0.05, 0.04),
    "c7": Posture(0.06, 0.04, 0.04),
    "head": Posture(0.08, 0.04, 0.05),
    "crown": Posture(0.10, 0.05, 0.06),
    "lead-shoulder": Posture(-0.04, 0.05, 0.08),
    "trail-shoulder": Posture(0.14, 0.05, 0.06),
    "lead-elbow": Posture(-0.03, 0.05, 0.10),
    "trail-elbow": Posture(0.11, 0.06, 0.09),
    "wrist": Posture(0.04, 0.05, 0.12),
    "implement-grip": Posture(0.04, 0.05, 0.12),
    "implement-head": Posture(0.00, 0.08, 0.22),
}
# Down the line the camera stands on the trail side: trail marks as written, lead marks with the other sign;
# rows that name a side are as written.
DOWN_THE_LINE: Table = {
    "heel": Posture(0.14, 0.04, 0.02),
    "ankle": Posture(0.14, 0.04, 0.02),
    "toe": Posture(0.14, 0.04, 0.02),
    "knee": Posture(0.11, 0.05, 0.04),
    # the turn and the way back at the top bring the lead one toward the middle, and past it
    "lead-hip": Posture(-0.08, 0.05, 0.07),
    "trail-hip": Posture(0.09, 0.04, 0.06),
    "navel": Posture(0.00, 0.05, 0.06),
    "c7": Posture(0.00, 0.05, 0.04),
    "head": Posture(0.00, 0.05, 0.04),
    "crown": Posture(0.00, 0.05, 0.04),
    # −0.13 when square, under the chin and past it when turned
    "lead-shoulder": Posture(-0.06, 0.05, 0.06),
    "trail-shoulder": Posture(0.10, 0.05, 0.06),
    # the hands go back on the trail side and take both elbows along; they are in the middle at the ball
    "lead-elbow": Posture(0.05, 0.08, 0.10),
    "trail-elbow": Posture(0.16, 0.08, 0.07),
    "wrist": Posture(0.14, 0.08, 0.13),
    "implement-grip": Posture(0.14, 0.08, 0.13),
    "implement-head": Posture(0.24, 0.10, 0.34),
    "ball": Posture(-0.03, 0.05, 0.00),  # in the middle of the stance or toward its lead side
}
DOWN_THE_LINE_AFTER: Table = {
    "trail-heel": Posture(0.16, 0.04, 0.03),
    "trail-toe": Posture(0.11, 0.04, 0.02),
    "lead-knee": Posture(-0.14, 0.05, 0.04),
    "trail-knee": Posture(0.00, 0.05, 0.05),
    "lead-hip": Posture(-0.13, 0.05, 0.04),
    "trail-hip": Posture(-0.06, 0.04, 0.06),
    "navel": Posture(-0.14, 0.05, 0.05),
    "c7": Posture(-0.05, 0.05, 0.05),
    "head": Posture(-0.06, 0.05, 0.05),
    "crown": Posture(-0.06, 0.05, 0.05),
    "lead-shoulder": Posture(-0.09, 0.05, 0.05),
    "trail-shoulder": Posture(-0.08, 0.05, 0.09),
    "lead-elbow": Posture(-0.23, 0.08, 0.06),
    "trail-elbow": Posture(-0.19, 0.08, 0.10),
    "wrist": Posture(-0.20, 0.08, 0.08),
    "implement-grip": Posture(-0.20, 0.08, 0.08),
    "implement-head": Posture(-0.05, 0.10, 0.38),
}
OTHER = {"face-on": Posture(0.05, 0.10, 0.06), "down-the-line": Posture(0.00, 0.12, 0.08)}
# Half a picture's time to either side of impact, at 30 pictures a second, is good for 0.05 (drawn swingers).
HEAD_AT_BALL = Posture(0.42, 0.08, 0.04)
# Not on its tee a ball may be anywhere from the plane through the feet to over the tee and beyond.
LOOSE_BALL = {"face-on": Posture(0.20, 0.14, 0.06), "down-the-line": OTHER["down-the-line"]}
SAME_ON_BOTH_SIDES = ("wrist",)  # both hands hold one grip
ALONG: tuple[View, ...] = ("down-the-line", "from-target")  # views along the target line


def bare(mark: str) -> str:
    """The mark without its side: "lead-hip" gives "hip"."""
    for side in ("lead-", "trail-"):
        if mark.startswith(side):
            return mark.removeprefix(side)
    return mark


def known(mark: str) -> bool:
    """Whether the table has a row for this mark."""
    return mark in FACE_ON or bare(mark) in FACE_ON


@lru_cache(maxsize=1000)  # of all names that authors give
def posture(mark: str, view: View, *, after: bool | None = False) -> Posture:
    """The table's row for a mark in a view, with its sign: depth positive toward the camera.

    after: whether impact has passed; None where that is not known, for a row that covers both. From behind
    the face-on signs are turned round, from the target those down the line.
    """
    if after is None:
        return _either(posture(mark, view), posture(mark, view, after=True))
    row = _row(mark, view in ALONG, after)
    return Posture(_sign(view) * row.depth, row.shared, row.per_frame)


def head_at_ball(view: View) -> Posture:
    """The row of an implement's head as it meets the ball, seen across the target line."""
    return Posture(_sign(view) * HEAD_AT_BALL.depth, HEAD_AT_BALL.shared, HEAD_AT_BALL.per_frame)


def loose_ball(view: View) -> Posture:
    """The row of a ball that does not lie still, in a hand, falling or in flight."""
    row = LOOSE_BALL["down-the-line" if view in ALONG else "face-on"]
    return Posture(_sign(view) * row.depth, row.shared, row.per_frame)


def _sign(view: View) -> int:
    return -1 if view in ("from-behind", "from-target") else 1


def _row(mark: str, along: bool, after: bool) -> Posture:
    """As seen from face on or down the line."""
    before, later = (DOWN_THE_LINE, DOWN_THE_LINE_AFTER) if along else (FACE_ON, FACE_ON_AFTER)
    part = bare(mark)
    for table in (later, before) if after else (before,):
        if mark in table:
            return table[mark]
        if part in table:
            row = table[part]
            other = along and mark.startswith("lead-") and part not in SAME_ON_BOTH_SIDES
            return Posture(-row.depth, row.shared, row.per_frame) if other else row
    return OTHER["down-the-line" if along else "face-on"]


def _either(before: Posture, after: Posture) -> Posture:
    """One row for either: the mean of both, and the u of a value that may come from either."""
    depth = (before.depth + after.depth) / 2
    square = (before.per_frame**2 + after.per_frame**2) / 2 + ((before.depth - after.depth) / 2) ** 2
    return Posture(depth, before.shared, math.sqrt(square))
