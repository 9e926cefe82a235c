"""The demo's printed numbers against the truth of the drawn swingers, computed from the joints themselves."""

from __future__ import annotations

import json
import re
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from functools import cache
from pathlib import Path

import numpy as np
import pytest

from lessonpress.figures.plates import BoundLesson, BoundSite
from lessonpress.records.measure import Measure
from tests.studio.clip import MadeClip
from tests.studio.demo import DEMOS, ROOT

CLIPS = sorted(path.name for path in (ROOT / "content" / "clips").iterdir() if path.is_dir())
# international yard and pound agreement, 1959: 1 in = 25.4 mm exactly, so 1 mph = 0.44704 m/s
UNITS = {"in": 0.0254, "mph": 0.44704, "deg": 1.0, "%": 1.0, None: 1.0}


@cache
def _made(name: str) -> MadeClip:
    """Where everything of a clip truly is; not asked for as tests are collected, by each process."""
    return DEMOS[name].made(Path())


@dataclass(frozen=True)
class Printed:
    """A number of a lesson with the picture it is measured on."""

    lesson: str
    measure: Measure
    clip: MadeClip
    frame: int
    mirrored: bool

    @property
    def now(self) -> float:
        return float(self.clip.times[self.frame])

    @property
    def then(self) -> float:
        """The other instant, where the number looks back (or ahead) to one."""
        others = [frame for frame in self.measure.frames if frame != self.frame] or [self.frame]
        return float(self.clip.times[others[0]])

    @property
    def way(self) -> np.ndarray:
        return np.asarray(self.clip.times[list(self.measure.frames)])


def holds(measure: Measure, truth: float) -> bool:
    """Whether a printed number's interval holds a truth in m, m/s, deg, per cent or none."""
    assert measure.value is not None and measure.low is not None and measure.high is not None
    true = truth / UNITS[measure.unit]
    if measure.dimension == "clock":
        true = measure.value + (true - measure.value + 180) % 360 - 180
    return measure.low <= true <= measure.high


def told(measure: Measure, truth: float) -> str:
    true = truth / UNITS[measure.unit]
    return f"{measure.id}: {measure.value} ± {measure.uncertainty} {measure.unit}, true {true}"


def _shift(p: Printed) -> float:
    return p.clip.truth.shift(*p.measure.marks, p.then, p.now, p.measure.axis or "level")


def _distance(p: Printed) -> float:
    return p.clip.truth.distance(*p.measure.marks, p.now, p.measure.axis or "straight")


def _angle(p: Printed) -> float:
    """In the picture, or that of the joints in space."""
    if p.measure.plane != "in space":
        return p.clip.truth.angle(*p.measure.marks, p.now)
    a, v, b = (p.clip.truth.world(mark, p.now) for mark in p.measure.marks)
    cosine = (a - v) @ (b - v) / (np.linalg.norm(a - v) * np.linalg.norm(b - v))
    return float(np.degrees(np.arccos(cosine)))


def _turn(p: Printed) -> float:
    """By foreshortening a size; in space of the line's level part, positive toward the target."""
    if p.measure.plane != "in space":
        return p.clip.truth.turn(*p.measure.marks, p.then, p.now)
    a, b = p.measure.marks
    (x0, _, z0), (x1, _, z1) = (
        p.clip.truth.world(b, seconds) - p.clip.truth.world(a, seconds) for seconds in (p.then, p.now)
    )
    return float(np.degrees(np.arctan2(z0 * x1 - x0 * z1, x0 * x1 + z0 * z1)))


def _speed(p: Printed) -> float:
    at_impact = p.frame == p.clip.events["impact"]
    return p.clip.truth.speed(*p.measure.marks, p.now, side=-1 if at_impact else 0)


def _circle(p: Printed) -> float:
    mark, *near = p.measure.marks
    centre, radius = p.clip.truth.circle(mark, p.way)
    return float(np.hypot(*(centre - p.clip.truth.flat(near[0], p.now)))) if near else radius


def _instead(p: Printed) -> float:
    of, vertex, end = p.measure.marks
    to = re.search(r"(\d+(?:\.\d+)?)°", p.measure.words)
    assert to is not None and p.measure.budget is not None
    along = "chord" if "sin" in p.measure.budget.formula else "arc"
    return p.clip.truth.instead(vertex, end, of, float(to[1]), p.now, along)


TRUTHS: dict[str, Callable[[Printed], float]] = {
    "tilt": lambda p: p.clip.truth.tilt(*p.measure.marks, p.now),
    "angle": _angle,
    "clock": lambda p: (-1 if p.mirrored else 1) * p.clip.truth.clock(*p.measure.marks, p.now) % 360,
    "turn": _turn,
    "balance": lambda p: p.clip.truth.balance(p.now),
    "path": lambda p: p.clip.truth.path(*p.measure.marks, p.way),
    "shift": _shift,
    "distance": _distance,
    "speed": _speed,
    "circle": _circle,
    "instead": _instead,
}


def printed(bound: BoundLesson) -> Iterator[Printed]:
    """The numbers on the plates of a lesson, and those of its charts."""
    for plate in bound.plates:
        for panel in plate.panels:
            for drawn in panel.drawn:
                if drawn.measure is not None and drawn.measure.value is not None:
                    yield Printed(
                        bound.lesson.name, drawn.measure, _made(panel.clip), panel.frame, panel.mirrored
                    )
        for point in plate.chart.points if plate.chart and plate.chart.points[0].lesson is None else ():
            clip = _made(point.measure.clips[0])
            yield Printed(bound.lesson.name, point.measure, clip, max(point.measure.frames), mirrored=False)


def test_every_number_on_a_plate_holds_its_truth(content: BoundSite) -> None:
    numbers = [one for bound in content.lessons for one in printed(bound)]
    assert {one.measure.kind for one in numbers} == set(TRUTHS)
    outside = [
        f"{one.lesson}: {told(one.measure, truth)}"
        for one in numbers
        if not holds(one.measure, truth := TRUTHS[one.measure.kind](one))
    ]
    assert outside == []


def test_the_difference_of_a_pair_holds_its_truth(content: BoundSite) -> None:
    found = 0
    for bound in content.lessons:
        true = {one.measure.id: TRUTHS[one.measure.kind](one) for one in printed(bound)}
        for name, measure in bound.measures.items():
            if name.endswith(".difference") and measure.value is not None:
                stem = name.removesuffix(".difference")
                assert holds(measure, truth := true[f"{stem}.first"] - true[f"{stem}.second"]), told(
                    measure, truth
                )
                found += 1
    assert found >= 2


def test_a_tempo_holds_that_of_the_swing_as_it_was_moved(content: BoundSite) -> None:
    found = 0
    for bound in content.lessons:
        measure = bound.measures.get("tempo")
        if measure is not None and measure.value is not None:
            events = DEMOS[measure.clips[0]].swinger.events
            true = (events["top"] - events["setup"]) / (events["impact"] - events["top"])
            assert holds(measure, true), told(measure, true)
            found += 1
    assert found


@pytest.mark.parametrize("name", CLIPS)
def test_the_truth_on_file_is_that_of_the_swing(name: str) -> None:
    file = json.loads((ROOT / "tests" / "studio" / "truth" / f"{name}.json").read_text(encoding="utf-8"))
    clip = _made(name)
    assert clip.events and len(file["metres"]) > 10
    for frame in sorted(clip.events.values()):
        places = clip.truth.where(float(clip.times[frame]))
        for mark, metres in file["metres"].items():
            assert metres[frame] == pytest.approx(places[mark], abs=1e-4), f"{mark}, frame {frame}"
