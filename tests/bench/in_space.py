"""How often truths in space lie inside: a clubhead's path and speed, and the ellipses of a plan.

    PYTHONPATH=. .venv/bin/python -m tests.bench.in_space --bodies 40

Of motions the median ± and the truths inside; of a plan, by kind of mark, the longer half of its ellipses,
which are stated at 95 %, and the marks inside them. All against the studio's joints in space. Proportions
vary, both clips err as they state, and one takes another point for a mark than the other does.
"""

from __future__ import annotations

import argparse
import math
from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass, field
from itertools import pairwise

import numpy as np

from lessonpress.measure import At, Measured, Refusal, Spot, Survey
from lessonpress.measure.second.crossed import SQUARE_U
from lessonpress.records import View
from tests.bench.second_view import OTHER, SAME, ask_for_pictures, pictures
from tests.measure.twoviews import Filmed, filmed
from tests.studio.variation import another_body, of_other_proportions

HEAD = "implement-head"
INCH, MILE = 0.0254, 0.44704  # m, and m/s in a mile an hour
EVENTS = ("setup", "top", "impact")
PLANNED: dict[str, tuple[str, ...]] = {
    "feet": ("trail-heel", "lead-heel", "trail-toe", "lead-toe"),
    "pelvis": ("trail-hip", "lead-hip"),
    "shoulders": ("trail-shoulder", "lead-shoulder"),
    "hands": ("trail-wrist", "lead-wrist"),
    "club": (HEAD,),
}
KIND = {mark: kind for kind, marks in PLANNED.items() for mark in marks}
FEET = ("trail-ankle", "lead-ankle")
Ask = Callable[[Survey, int, int], Measured | Refusal]  # with the frames of top and impact


@dataclass(frozen=True)
class Motion:
    """since, at: the frames that it rests on, from those of top and impact; the same twice for a speed."""

    unit: str
    size: float
    since: Callable[[int, int], int]
    at: Callable[[int, int], int]

    def asked(self, survey: Survey, top: int, impact: int) -> Measured | Refusal:
        since, at = self.since(top, impact), self.at(top, impact)
        if since == at:
            return survey.speed(At(HEAD, at), space=True)
        return survey.path(HEAD, since, at, space=True)

    def truth(self, clip: Filmed, top: int, impact: int) -> float:
        since, at = self.since(top, impact), self.at(top, impact)
        return true_speed(clip, HEAD, at) if since == at else true_path(clip, HEAD, since, at)


def _last(top: int, impact: int) -> int:
    return impact


def _before(frames: int) -> Callable[[int, int], int]:
    return lambda top, impact: impact - frames


def _part(part: float, before: int = 0) -> Callable[[int, int], int]:
    return lambda top, impact: round(top + part * (impact - top)) - before


LONG = "path, the last 20 pictures"
MOTIONS: dict[str, Motion] = {
    LONG: Motion(" in", INCH, _before(20), _last),
    "path, 10 pictures to half of the way down": Motion(" in", INCH, _part(0.5, 10), _part(0.5)),
    "speed at half of the way down": Motion(" mph", MILE, _part(0.5), _part(0.5)),
    "speed 12 pictures before impact": Motion(" mph", MILE, _before(12), _before(12)),
    "speed at impact": Motion(" mph", MILE, _last, _last),
}


def place(clip: Filmed, mark: str, frame: float) -> np.ndarray:
    times = np.array(clip.setting.times)
    return clip.truth.world(mark, clip.start + float(np.interp(frame, range(len(times)), times)))


def true_path(clip: Filmed, mark: str, first: int, last: int) -> float:
    places = [place(clip, mark, frame) for frame in range(first, last + 1)]
    return sum(float(np.linalg.norm(b - a)) for a, b in pairwise(places))


def true_speed(clip: Filmed, mark: str, frame: int) -> float:
    """Up to a frame, by the last hundredth of a picture: at impact the way after it is another."""
    step, times = 0.01, clip.setting.times or ()
    seconds = step * (times[1] - times[0])
    return float(np.linalg.norm(place(clip, mark, frame) - place(clip, mark, frame - step))) / seconds


def on_the_plan(clip: Filmed, mark: str, event: str) -> np.ndarray:
    """Toward the target and toward the ball from the middle of the feet at setup, m.

    The studio's x and z face-on; down the line its x runs toward the ball and its z away from the target.
    """
    feet = np.mean([clip.truth.world(foot, clip.when("setup")) for foot in FEET], axis=0)
    x, _, z = clip.truth.world(mark, clip.when(event)) - feet
    return np.array([x, z] if clip.setting.view == "face-on" else [-z, x])


def inside(spot: Spot, true: np.ndarray) -> bool:
    """By the ellipse's own equation in its own axes."""
    long, short, turn = spot.ellipse
    x, z = true - np.array(spot.at)
    cos, sin = math.cos(math.radians(turn)), math.sin(math.radians(turn))
    return ((x * cos + z * sin) / long) ** 2 + ((z * cos - x * sin) / short) ** 2 <= 1


@dataclass
class Tally:
    pm: list[float] = field(default_factory=list)
    held: list[bool] = field(default_factory=list)
    left_out: int = 0

    def told(self, unit: str) -> str:
        more = f", {self.left_out} left out" if self.left_out else ""
        share = (
            f"{sum(self.held)} of {len(self.held)}, {100 * np.mean(self.held):.0f} %" if self.held else "–"
        )
        return f"± {np.median(self.pm) if self.pm else math.nan:.1f}{unit}{more} | {share}"


def films(
    seed: int, view: View, stream: int, how: dict[str, object], *, followed: bool = True
) -> tuple[Filmed, Filmed]:
    rng = np.random.default_rng([seed, stream])
    body = of_other_proportions(another_body(rng), rng)
    way = (HEAD,) if followed else ()
    clip = filmed(body, view, rng, followed=way, **how)  # type: ignore[arg-type]
    return clip, filmed(body, OTHER[view], rng, followed=way, same=SAME, **how)  # type: ignore[arg-type]


def count_motions(
    clip: Filmed, survey: Survey, tallies: dict[str, Tally], names: Iterable[str] = MOTIONS
) -> None:
    top, impact = (clip.setting.events[event] for event in ("top", "impact"))
    for name in names:
        motion = MOTIONS[name]
        tally, found = tallies.setdefault(name, Tally()), motion.asked(survey, top, impact)
        if isinstance(found, Measured):
            tally.pm.append(found.uncertainty / motion.size)
            tally.held.append(found.low <= motion.truth(clip, top, impact) <= found.high)
        else:
            tally.left_out += 1


def count_spots(clip: Filmed, survey: Survey, tallies: dict[str, Tally]) -> None:
    events = clip.setting.events
    for event in EVENTS:
        spots = survey.plan(KIND, events[event], events["setup"])
        shown = {} if isinstance(spots, Refusal) else {spot.mark: spot for spot in spots}
        for mark, kind in KIND.items():
            tally = tallies.setdefault(kind, Tally())
            if mark in shown:
                tally.pm.append(shown[mark].ellipse[0] / INCH)
                tally.held.append(inside(shown[mark], on_the_plan(clip, mark, event)))
            else:
                tally.left_out += 1


def rows(
    view: View, bodies: int, stream: int, how: dict[str, object], *, moving: bool = True
) -> Iterator[str]:
    motions: dict[str, Tally] = {}
    spots: dict[str, Tally] = {}
    for seed in range(bodies):
        clip, second = films(seed, view, stream, how, followed=moving)
        survey = clip.survey(second)
        if moving:
            count_motions(clip, survey, motions)
        count_spots(clip, survey, spots)
    for name, tally in motions.items():
        yield f"| {view} | {name} | {tally.told(MOTIONS[name].unit)} |"
    for kind, tally in spots.items():
        yield f"| {view} | {kind} on the plan | {tally.told(' in')} |"


def main() -> None:
    asked = argparse.ArgumentParser(description=__doc__)
    asked.add_argument("--bodies", type=int, default=40)
    asked.add_argument("--stream", type=int, default=17, help="another set of bodies")
    ask_for_pictures(asked)
    asked.add_argument("--plan", action="store_true", help="the plan alone, which takes far less time")
    asked.add_argument("--askew", action="store_true", help="cameras as far from square as a plan allows for")
    given = asked.parse_args()
    how = pictures(given) | ({"askew": SQUARE_U} if given.askew else {})
    print("| view | number | ± | inside |\n| --- | --- | --- | --- |")
    for view in OTHER:
        for row in rows(view, given.bodies, given.stream, how, moving=not given.plan):
            print(row, flush=True)


if __name__ == "__main__":
    main()
