"""What numbers become when every mark of the body they rest on is an accepted suggestion: how often truth is
inside ±.
"""

from __future__ import annotations

import shutil
import tempfile
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path

from lessonpress.footage.pose.bodymarks import SUGGESTED
from lessonpress.footage.pose.suggesting import suggest_marks
from lessonpress.measure import At, Measured, Refusal, Survey
from tests.chain.chain import filmed
from tests.studio.demo import DEMOS
from tests.studio.truth import Truth
from tests.suggesting.films import ROOT, Filmed

EVERY = 4  # pictures: of one after the other little is learnt

Asked = Callable[[Survey, int, int], Measured | Refusal]
True_ = Callable[[Truth, float, float], float]
# of the first picture and another: what is measured, and what is true; deg or m
NUMBERS: dict[str, tuple[Asked, True_]] = {
    "lean, navel to C7": (
        lambda survey, _, now: survey.tilt(At("navel", now), At("c7", now)),
        lambda truth, _, now: truth.tilt("navel", "c7", now),
    ),
    "lean of the lead shank": (
        lambda survey, _, now: survey.tilt(At("lead-ankle", now), At("lead-knee", now)),
        lambda truth, _, now: truth.tilt("lead-ankle", "lead-knee", now),
    ),
    "angle of the lead knee": (
        lambda survey, _, now: survey.angle(At("lead-hip", now), At("lead-knee", now), At("lead-ankle", now)),
        lambda truth, _, now: truth.angle("lead-hip", "lead-knee", "lead-ankle", now),
    ),
    "width of the stance": (
        lambda survey, _, now: survey.distance(At("trail-ankle", now), At("lead-ankle", now)),
        lambda truth, _, now: truth.distance("trail-ankle", "lead-ankle", now),
    ),
    "shift of the navel": (
        lambda survey, then, now: survey.shift(At("navel", then), At("navel", now)),
        lambda truth, then, now: truth.shift("navel", then, now),
    ),
    "shift of the head": (
        lambda survey, then, now: survey.shift(At("head", then), At("head", now)),
        lambda truth, then, now: truth.shift("head", then, now),
    ),
    "shift of the pelvis": (
        lambda survey, then, now: survey.shift(At("pelvis", then), At("pelvis", now)),
        lambda truth, then, now: (
            (truth.shift("lead-hip", then, now) + truth.shift("trail-hip", then, now)) / 2
        ),
    ),
}


@dataclass(frozen=True)
class Number:
    """name: of NUMBERS. holds: whether truth is inside ±; None where it was refused."""

    name: str
    holds: bool | None


def numbers(film: Filmed) -> Iterator[Number]:
    """Those of a film of the demo, the room's marks as its author placed them."""
    demo = DEMOS[film.name]
    truth = demo.made(Path()).truth
    times = demo.times
    frames = range(film.events[0], film.events[-1] + 1, EVERY)
    shown = [(frame, picture) for frame, picture in film.pictures if frame in frames]
    found = list(suggest_marks(shown, film.view, film.hand, SUGGESTED))
    with tempfile.TemporaryDirectory() as folder:
        site = Path(shutil.copytree(ROOT / "content", Path(folder) / "site"))
        clip = filmed(site, film.name)
    room = [seen for seen in clip.clip.hand_placed if seen.mark in clip.card.room]
    survey = Survey(clip.survey.setting, [*room, *(row for one in found for row in one.rows)], "in")
    first = frames[0]
    for frame in frames[1:]:
        for name, (asked, true) in NUMBERS.items():
            measured = asked(survey, first, frame)
            yield Number(name, _holds(measured, true(truth, float(times[first]), float(times[frame]))))


def _holds(measured: Measured | Refusal, true: float) -> bool | None:
    return None if isinstance(measured, Refusal) else bool(measured.low <= true <= measured.high)


def table(every: Sequence[Number]) -> Iterator[str]:
    yield "| number | inside its ± | refused |"
    yield "| --- | --- | --- |"
    for name in (*NUMBERS, "all"):
        own = [one.holds for one in every if name in (one.name, "all")]
        given = [one for one in own if one is not None]
        held = f"{100 * sum(given) / len(given):.0f} %" if given else ""
        yield f"| {name} | {held} | {100 * (1 - len(given) / len(own)):.0f} % |"
