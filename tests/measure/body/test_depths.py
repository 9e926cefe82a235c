"""How deep a mark is between the instants that a card names, and a ball that does not lie still."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import replace
from itertools import product

import numpy as np
import pytest

from lessonpress.measure import At, Camera, Depth, KnownLength, Measured, Motion, Refusal, Setting, Survey
from lessonpress.measure.body.depths import BODY_BENDS_IN, Depths
from lessonpress.measure.formulas.arrays import FloatArray
from lessonpress.records.mark import Observation
from lessonpress.records.view import View
from tests.studio.body import Swinger, marks_at
from tests.studio.camera import to_view
from tests.studio.clip import STUDIO_CAMERA, WITHIN_CAMERA
from tests.studio.room import INCH
from tests.studio.swingers import DUNE, SHINGLE
from tests.studio.truth import Truth, truth_of

RATE = 240
TRACK_U = 0.3  # px
STICK = ("stick-top", "stick-foot")


class Filmed:
    """A swing from its setup to shortly after impact, 240 pictures a second, its marks tracked exactly."""

    def __init__(self, swinger: Swinger, *marks: str) -> None:
        start, impact = swinger.events["setup"], swinger.events["impact"]
        self.swinger = swinger
        self.seconds = start + np.arange(int((impact + 0.06 - start) * RATE)) / RATE
        self.truth: Truth = truth_of(swinger, STUDIO_CAMERA)
        self.observations = [
            Observation(name, 0, *map(float, STUDIO_CAMERA.project(np.array([0.9, up, 0.0]))))
            for name, up in zip(STICK, (1.0, 1.0 - 36 * INCH), strict=True)
        ]
        for mark, (frame, second) in product(marks, enumerate(self.seconds)):
            place = to_view(marks_at(swinger, float(second))[mark], "face-on", swinger.hand)
            x, y = (float(part) for part in STUDIO_CAMERA.project(place))
            carried = Observation(mark, frame, x, y, TRACK_U, tracked=True, origin=0)
            self.observations.append(carried if frame else Observation(mark, frame, x, y))

    def frame(self, event: str) -> int:
        return round((self.swinger.events[event] - self.swinger.events["setup"]) * RATE)

    def survey(self, depth: Mapping[str, Mapping[int, Depth]]) -> Survey:
        setting = Setting(
            "swing",
            STUDIO_CAMERA.size,
            hand=self.swinger.hand,
            camera=Camera(STUDIO_CAMERA.distance, WITHIN_CAMERA, still=True),
            plumb=(STICK,),
            scales=(KnownLength(STICK, 36 * INCH, 0.1 * INCH),),
            stature=self.swinger.stature,
            room=frozenset(STICK),
            depth=depth,
            times=tuple(self.seconds - self.seconds[0]),
            impact=self.frame("impact"),
        )
        return Survey(setting, self.observations)

    def stated(self, mark: str, frames: list[int], within: float = 3 * INCH) -> dict[str, dict[int, Depth]]:
        """True depths of the mark at these frames, as a card says them."""
        true = (self.truth.depth(mark, float(self.seconds[frame])) for frame in frames)
        return {mark: {frame: Depth(depth, within) for frame, depth in zip(frames, true, strict=True)}}


@pytest.fixture(scope="module", params=[DUNE, SHINGLE], ids=lambda swinger: swinger.name)
def swing(request: pytest.FixtureRequest) -> Filmed:
    return Filmed(request.param, "lead-wrist", "implement-head", "c7")


@pytest.mark.parametrize("mark", ["lead-wrist", "implement-head"])
@pytest.mark.parametrize("named", [(), ("setup", "top", "impact")], ids=["no depth", "three depths"])
def test_a_way_whose_depth_bends_between_named_instants_holds_the_truth(
    swing: Filmed, mark: str, named: tuple[str, ...]
) -> None:
    """Way, radius and centre of the drawn swingers' downswing, whose depth runs anything but straight."""
    survey = swing.survey(swing.stated(mark, [swing.frame(event) for event in named]) if named else {})
    top, impact = swing.frame("top"), swing.frame("impact")
    seconds = swing.seconds[top : impact + 1]
    centre, radius = swing.truth.circle(mark, seconds)
    hub = float(np.hypot(*(centre - swing.truth.flat("c7", float(seconds[-1])))))
    asked = {
        swing.truth.path(mark, seconds): survey.path(mark, top, impact),
        radius: survey.circle(mark, top, impact),
        hub: survey.circle(mark, top, impact, near=At("c7", impact)),
    }
    for true, found in asked.items():
        if true == hub and isinstance(found, Refusal):
            continue  # a centre too close to the mark is said in words
        assert isinstance(found, Measured), str(found)
        assert found.low <= true <= found.high, (
            f"{found.value:.3f} ± {found.uncertainty:.3f}, true {true:.3f}"
        )


def test_instants_named_close_together_leave_little_to_a_bend(swing: Filmed) -> None:
    """Named 40 times a second, the clubhead's way is twice as well known as by two depths, or better."""
    top, impact = swing.frame("top"), swing.frame("impact")
    close = [*range(top, impact, 6), impact]
    few, many = (
        swing.survey(swing.stated("implement-head", frames, 0.01)).path("implement-head", top, impact)
        for frames in ([top, impact], close)
    )
    assert isinstance(few, Measured) and isinstance(many, Measured)
    assert many.uncertainty < few.uncertainty / 2


def spread(survey: Survey, mark: str, frame: int) -> float:
    """Standard deviation of a drawn depth, m."""
    return float(np.std(drawn(survey, mark, frame)))


def drawn(survey: Survey, mark: str, frame: int) -> FloatArray:
    values = survey.scene.inputs.draws(20_000, 3)
    return survey.scene.depths.of(mark, frame, values)


def named_at(*frames: int) -> Survey:
    """A wrist in the plane at these frames, known there for certain."""
    setting = Setting(
        "clip",
        (1280, 720),
        stature=1.8,
        depth={"lead-wrist": {frame: Depth(0.0, 0.0) for frame in frames}},
        times=tuple(frame / RATE for frame in range(200)),
        impact=150,
    )
    return Survey(setting, [Observation("lead-wrist", 0, 640, 360)])


def test_a_depth_does_not_bend_at_the_instants_named() -> None:
    survey = named_at(0, 24, 48)
    assert [spread(survey, "lead-wrist", frame) for frame in (0, 24, 48)] == [0, 0, 0]
    assert spread(survey, "lead-wrist", 12) > 0


def test_a_bend_grows_with_the_square_of_the_gap_until_it_is_as_large_as_a_body_s() -> None:
    """Half the gap, a quarter of the bend (s = a t²/2); beyond 0.15 s it grows no more."""
    quarter, half, full, long = (spread(named_at(0, n), "lead-wrist", n // 2) for n in (8, 16, 36, 100))
    assert half == pytest.approx(4 * quarter, rel=0.05)
    assert pytest.approx(36 / RATE) == BODY_BENDS_IN
    assert long == pytest.approx(full, rel=0.05)


def test_a_bend_is_one_unknown_of_its_gap() -> None:
    """Depths within a gap err together, those of two gaps do not."""
    survey = named_at(0, 24, 48)
    a, b, c = (drawn(survey, "lead-wrist", frame) for frame in (11, 13, 36))
    assert np.corrcoef(a, b)[0, 1] > 0.95
    assert abs(np.corrcoef(a, c)[0, 1]) < 0.05


# a ball


def ball_seen(*places: tuple[int, float, float], view: View = "face-on", impact: int | None = 50) -> Survey:
    setting = Setting("clip", (1280, 720), view=view, stature=1.8, impact=impact, camera=Camera(still=True))
    return Survey(setting, [Observation("ball", frame, x, y) for frame, x, y in places])


def depth_of(survey: Survey, frame: int) -> tuple[float, float]:
    """Best value and standard deviation of the ball's depth, m."""
    best = survey.scene.depths.of("ball", frame, survey.scene.best)
    return float(best[0]), spread(survey, "ball", frame)


@pytest.mark.parametrize("impact", [50, None])
def test_a_ball_that_lies_still_lies_at_the_ball_s_place(impact: int | None) -> None:
    """0.42 of stature toward the camera (the posture table), also where clicks scatter by a few px."""
    best, u = depth_of(ball_seen((0, 600, 600), (40, 603, 598), impact=impact), 40)
    assert best == pytest.approx(0.42 * 1.8)
    assert u == pytest.approx(math.hypot(0.06 * 1.8, 0.42 * 0.02), rel=0.05)


def test_a_ball_that_moves_before_impact_may_be_anywhere() -> None:
    """Dropped or thrown, it is not on the tee in any of its pictures."""
    for frame in (0, 20, 40):
        best, u = depth_of(ball_seen((0, 600, 200), (20, 600, 300), (40, 600, 600)), frame)
        assert best < 0.3 * 1.8 and u > 0.14 * 1.8


def test_a_ball_after_impact_may_be_anywhere() -> None:
    survey = ball_seen((0, 600, 600), (40, 600, 600), (52, 800, 550))
    assert depth_of(survey, 40)[0] == pytest.approx(0.42 * 1.8)
    assert depth_of(survey, 52)[1] > 0.14 * 1.8


def test_a_camera_that_moves_does_not_move_the_ball() -> None:
    """Carried to one picture by the camera's motion, the ball lies still."""
    moved = np.eye(3)
    moved[0, 2] = -80.0
    motion = Motion(np.stack([np.eye(3), moved]), np.array([0.0, 0.3]))
    seen = [Observation("ball", 0, 600, 600), Observation("ball", 1, 680, 600)]
    setting = Setting("clip", (1280, 720), stature=1.8, impact=5, motion=motion)
    rests = Survey(setting, seen).scene.observations.rests
    assert rests("ball", 1)
    assert not Survey(replace(setting, motion=None), seen).scene.observations.rests("ball", 1)


def test_a_ball_in_flight_seen_along_its_flight_has_no_depth() -> None:
    """Down the line it flies away from the camera, metres in a few pictures."""
    survey = ball_seen((0, 600, 600), (52, 610, 550), view="down-the-line")
    found = survey.shift(At("ball", 0), At("ball", 52))
    assert isinstance(found, Refusal)


@pytest.mark.parametrize(("named", "part"), [((), 1 / 2), ((0,), 1.0), ((0, 20), 3 / 2)])
def test_a_depth_may_bend_by_what_its_ends_do_not_carry_already(named: tuple[int, ...], part: float) -> None:
    """Variance of one depth off the mean of two, u² (1 + ½), less ½ u² for each end from the table."""
    depths = Depths(Setting("clip", (1280, 720), stature=1.8), lambda mark, frame: False)
    bow, _ = depths.bends("navel", (0, 20), {frame: Depth(0.0, 0.02) for frame in named})
    assert bow.u == pytest.approx(math.sqrt(part) * 0.02 * 1.8)
