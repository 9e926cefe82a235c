"""How far a golfer likely reaches in a picture beyond the marks that were placed.

A lesson that needs two marks has two marks, and a crop to their hull would cut off head, legs or club.
"""

from __future__ import annotations

from collections.abc import Collection

from lessonpress.figures.bind.surveyed_clip import SurveyedClip
from lessonpress.measure import STATURE
from lessonpress.records import Observation, Point

HEAD = ("head", "crown")
FEET = tuple(f"{side}-{part}" for side in ("lead", "trail") for part in ("ankle", "heel", "toe"))
CLUB = "implement-head"
# Heights of marks over the ground, in fractions of stature: those of a body standing, after Drillis and
# Contini 1966 (shoulder 0.818, hip 0.530, knee 0.285, ankle 0.039; from memory), lowered for a bent trunk and
# bent knees.
HEIGHTS = {
    "crown": 0.92, "head": 0.86, "c7": 0.79, "shoulder": 0.75, "navel": 0.56, "hip": 0.50, "knee": 0.27,
    "ankle": 0.04, "heel": 0.01, "toe": 0.01,
}  # fmt: skip
TOP = 0.97  # of stature: the crown, and what a posture may differ by
HALF_STANCE = 0.25  # of stature
HUB = 0.79  # of stature: where the arms swing from
# How far a club reaches from the hub, up and to either side, in fractions of stature; no published source. A
# long club at the end of the arms reaches 0.95 (0.33 and 0.62); at named moments it points where it does.
REACH = (0.95, 0.95)
REACHES = {"setup": (0.18, 0.35), "impact": (0.18, 0.35), "top": (0.45, 0.75), "finish": (0.45, 0.75)}
AT_THE_BALL = 0.60  # of stature, toward the ball, seen along the line of flight


def hull(filmed: SurveyedClip, frames: Collection[int]) -> list[Point]:
    """The golfer's marks on those frames, and what more of the body and club there likely is.

    Where parts have no mark, and no scale or no mark of known height shows how far they reach, the corners of
    the whole picture. The room's marks are left out: they would widen every picture to the walls.
    """
    seen = [
        one for one in filmed.clip.observations if one.frame in frames and one.mark not in filmed.card.room
    ]
    points = [(one.x, one.y) for one in seen]
    marks = {one.mark for one in seen}
    whole = not marks.isdisjoint(HEAD) and not marks.isdisjoint(FEET) and CLUB in marks
    if not points or whole:
        return points
    width, height = filmed.index.size
    likely = _likely(filmed, seen, frames, club=CLUB not in marks)
    return points + (likely or [(0.0, 0.0), (float(width), float(height))])


def _likely(
    filmed: SurveyedClip, seen: list[Observation], frames: Collection[int], *, club: bool
) -> list[Point]:
    """Corners of the box of body and club from each mark of known height; [] where it is unknown."""
    scale = filmed.survey.px_per_metre()
    if scale is None or filmed.card.view == "overhead":
        return []
    stature = scale * (filmed.card.stature.metres if filmed.card.stature else STATURE)
    up, left, right = _reach(filmed, frames) if club else (TOP - HUB, HALF_STANCE, HALF_STANCE)
    corners: list[Point] = []
    for one in seen:
        at = HEIGHTS.get(one.mark.removeprefix("lead-").removeprefix("trail-"))
        if at is None:
            continue
        ground = one.y + at * stature
        corners.append((one.x - left * stature, ground - max(TOP, HUB + up) * stature))
        corners.append((one.x + right * stature, ground))
    width, height = filmed.index.size
    return [(min(max(0.0, x), float(width)), min(max(0.0, y), float(height))) for x, y in corners]


def _reach(filmed: SurveyedClip, frames: Collection[int]) -> tuple[float, float, float]:
    """How far the club likely reaches up from the hub, to the left and to the right, of stature."""
    names = {frame: name for name, frame in filmed.events.items()}
    reaches = [REACHES.get(names.get(frame, ""), REACH) for frame in frames]
    up, aside = (max(reach[axis] for reach in reaches) for axis in (0, 1))
    toward = aside if filmed.card.goal == "target" else max(aside, AT_THE_BALL)
    return (up, aside, toward) if filmed.card.flight[1] > 0 else (up, toward, aside)
