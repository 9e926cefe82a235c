"""What numbers become when every mark of the body they rest on is an accepted suggestion: how often truth is
inside ±, and how large errors are by u.

Of one film errors of pictures that follow one another are much alike, so that shares of some 50 pictures go
up and down by chance more than their number says; errors by u tell more.
"""

from __future__ import annotations

import math
import shutil
import tempfile
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from pathlib import Path

from lessonpress.figures import SurveyedClip
from lessonpress.footage import suggested_errors
from lessonpress.footage.pose.bodymarks import SUGGESTED
from lessonpress.footage.pose.suggesting import suggest_marks
from lessonpress.measure import At, Measured, Refusal, Survey
from tests.chain.chain import filmed, write_site
from tests.studio.demo import DEMOS
from tests.studio.truth import Truth
from tests.suggesting.films import ROOT, Filmed

EVERY = 4  # pictures: of one after the other little is learnt

Asked = Callable[[Survey, int, int], Measured | Refusal]
True_ = Callable[[Truth, float, float], float]

BEFORE = "since the picture before"


def _breadth(truth: Truth, now: float) -> float:
    """Of the shoulders along the level axis, from trail to lead, m."""
    lean = math.radians(truth.tilt("trail-shoulder", "lead-shoulder", now))
    return math.sin(lean) * truth.distance("trail-shoulder", "lead-shoulder", now)


# of an earlier picture and another: what is measured, and what is true; deg or m. The earlier one is the
# first, or where the name says so the one before
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
    "breadth of the shoulders": (
        lambda survey, _, now: survey.distance(At("trail-shoulder", now), At("lead-shoulder", now), "level"),
        lambda truth, _, now: _breadth(truth, now),
    ),
}
NUMBERS |= {f"{name} {BEFORE}": NUMBERS[name] for name in ("shift of the navel", "shift of the head")}


@dataclass(frozen=True)
class Number:
    """name: of NUMBERS. holds: whether truth is inside ±; None where it was refused. off: by how many u."""

    name: str
    holds: bool | None
    off: float = 0.0


def numbers(film: Filmed) -> Iterator[Number]:
    """Those of a film. Marks of its room are as the author of the demo placed them, or clicked."""
    frames = range(film.clicked[0], film.clicked[-1] + 1, EVERY)
    asked_of = {at for frame in frames for at in (frame - 1, frame)}
    shown = [(frame, picture) for frame, picture in film.pictures if frame in asked_of]
    found = list(suggest_marks(shown, film.view, film.hand, SUGGESTED))
    truth, clip = _true_and_surveyed(film)
    room = [seen for seen in clip.clip.hand_placed if seen.mark in clip.card.room]
    setting = replace(clip.survey.setting, suggested=suggested_errors(film.view))
    survey = Survey(setting, [*room, *(row for one in found for row in one.rows)], "in")
    for frame in frames[1:]:
        for name, (asked, true) in NUMBERS.items():
            then = frame - 1 if name.endswith(BEFORE) else frames[0]
            measured = asked(survey, then, frame)
            yield _number(name, measured, true(truth, film.seconds[then], film.seconds[frame]))


def _true_and_surveyed(film: Filmed) -> tuple[Truth, SurveyedClip]:
    with tempfile.TemporaryDirectory() as folder:
        site = Path(folder) / "site"
        if film.made is None:
            shutil.copytree(ROOT / "content", site)
            return DEMOS[film.name].made(Path()).truth, filmed(site, film.name)
        made = film.made(write_site(site))
        return made.truth, filmed(site, made.name)


def _number(name: str, measured: Measured | Refusal, true: float) -> Number:
    if isinstance(measured, Refusal):
        return Number(name, None)
    return Number(name, bool(measured.low <= true <= measured.high), (measured.value - true) / measured.u)


def table(groups: Mapping[str, Sequence[Number]]) -> Iterator[str]:
    """By number, for each group of films and for all of them."""
    groups = {**groups, "all": [one for every in groups.values() for one in every]}
    heads = [f"{name}: inside its ± | error by u, rms" for name in groups]
    yield f"| number | {' | '.join(heads)} | refused |"
    yield f"| --- |{' --- | --- |' * len(groups)} --- |"
    for name in (*NUMBERS, "all"):
        own = [[one for one in every if name in (one.name, "all")] for every in groups.values()]
        refused = sum(one.holds is None for one in own[-1]) / len(own[-1])
        yield f"| {name} | {' | '.join(_cells(some) for some in own)} | {100 * refused:.0f} % |"


def _cells(some: Sequence[Number]) -> str:
    given = [one for one in some if one.holds is not None]
    if not given:
        return " | "
    rms = math.sqrt(sum(one.off**2 for one in given) / len(given))
    return f"{100 * sum(one.holds is True for one in given) / len(given):.0f} % | {rms:.2f}"
