"""A lens's bending solved from straight lines of the room, against OpenCV's own lens."""

from __future__ import annotations

import math
from dataclasses import replace

import cv2
import numpy as np
import pytest
from scipy.stats import chi2

from lessonpress.measure import At, Camera, Depth, KnownLength, Lens, Measured, Setting, Survey
from lessonpress.measure.inputs.observations import Observations
from lessonpress.measure.optics.lens import K2_U, Optics, chi_square_limit, optics_of
from lessonpress.measure.uncertainty.quantities import BestValues, SharedInputs
from lessonpress.records.mark import Observation
from tests.measure.studio import SIZE, Room, TrueCamera

K1 = -0.15
ASSUMED = 0.9 * SIZE[0]  # px: what is taken for the focal length where it is not given
LINES = {  # ends in the picture's plane at the camera's distance, as fractions of the half picture
    "left": ((-0.8, -0.9), (-0.85, 0.9)),
    "right": ((0.85, -0.9), (0.8, 0.9)),
    "ceiling": ((-0.9, 0.85), (0.9, 0.8)),
    "skirting": ((-0.9, -0.8), (0.9, -0.85)),
}


def put_lines(room: Room, count: int = 6, reach: float = 1.0) -> tuple[tuple[str, ...], ...]:
    """Marks along four edges of the room, evenly; the names of each edge's."""
    camera = room.camera
    half = np.array(SIZE) / 2 / camera.focal * camera.distance
    for name, (start, end) in LINES.items():
        for step in range(count):
            x, y = reach * half * (np.array(start) + (np.array(end) - start) * step / (count - 1))
            room.put(f"{name}-{step}", 0, x, y)
    return tuple(tuple(f"{name}-{step}" for step in range(count)) for name in LINES)


def filmed(generator: np.random.Generator, click_u: float = 1.5, **lens: float) -> tuple[Room, Setting]:
    room = Room(TrueCamera(focal=ASSUMED, **lens), generator, click_u=click_u)
    lines = put_lines(room)
    room.put("stick-foot", 0, 0.6, -1.0)
    room.put("stick-top", 0, 0.6, 0.0)
    room.put("navel", 0, -1.9, -1.1)
    room.put("c7", 0, 0.0, -1.0)
    setting = Setting(
        "drawn",
        SIZE,
        target_right=1,
        camera=Camera(4.3, 0.05, still=True),
        plumb=(("left-0", "left-5"),),
        scales=(KnownLength(("stick-top", "stick-foot"), 1.0, 0.002),),
        depth={"navel": Depth(0.0, 0.0), "c7": Depth(0.0, 0.0)},
        room=frozenset(mark for mark, _ in room.true if mark not in ("navel", "c7")),
        lens=Lens(straight=lines),
    )
    return room, setting


def alone(setting: Setting, observations: list[Observation]) -> Optics:
    """The lens without the rest of the clip's camera."""
    return optics_of(Observations(setting, observations), SharedInputs())


def test_marks_that_are_sure_enough_give_k2_as_well() -> None:
    """A k2 of 0.1, three u from what is expected, is found with k1 from clicks of 0.5 px on many marks."""
    room = Room(TrueCamera(focal=800.0, k1=K1, k2=0.1), np.random.default_rng(5), click_u=0.5)
    lines = put_lines(room, 25)
    setting = Setting("drawn", SIZE, lens=Lens(focal=800.0, straight=lines))
    observations = [replace(s, u=0.5) for s in room.sighted()]
    found = alone(setting, observations)
    assert found.solved is not None and found.solved.stated
    assert found.solved.k1 == pytest.approx(K1, abs=2 * found.solved.u)
    k2 = float(found.bend(BestValues()).b[0]) * 800.0**4
    assert k2 == pytest.approx(0.1, abs=0.03)


@pytest.mark.parametrize("k1", [-0.25, K1, -0.02, 0.1])
@pytest.mark.parametrize("k2", [0.0, 0.03])
def test_exact_marks_give_back_opencv_s_coefficients(k1: float, k2: float) -> None:
    """cv2.projectPoints bends; a k2 one u from what is expected of it moves k1 by less than its u."""
    room, setting = filmed(np.random.default_rng(0), click_u=0.0, k1=k1, k2=k2)
    solved = Survey(setting, room.sighted()).lens
    assert solved is not None and not solved.stated
    assert solved.focal == pytest.approx(ASSUMED)
    assert solved.k1 == pytest.approx(k1, abs=solved.u if k2 else 1e-6)
    assert solved.residual < (0.3 if k2 else 1e-5)
    assert (solved.lines, solved.marks) == (4, 24)


def test_undistorted_marks_are_opencv_s() -> None:
    """cv2.undistortPoints with the true coefficients puts the marks where the solved bending does."""
    room, setting = filmed(np.random.default_rng(0), click_u=0.0, k1=K1)
    survey = Survey(setting, room.sighted())
    inner = np.array([[ASSUMED, 0, SIZE[0] / 2], [0, ASSUMED, SIZE[1] / 2], [0, 0, 1.0]])
    best = survey.scene.best
    for mark in ("left-0", "ceiling-3", "navel"):
        shown = np.array([[survey.position(At(mark, 0))]])
        straight = cv2.undistortPoints(shown, inner, np.array([K1, 0, 0, 0]), P=inner)[0, 0]
        expected = straight - np.array(SIZE) / 2
        p, q = survey.scene.optics.offset(At(mark, 0), best)
        assert (p[0], -q[0]) == pytest.approx(tuple(expected), abs=0.02)


def test_the_lens_s_uncertainty_covers_the_true_coefficient() -> None:
    """Clicks and k2 drawn as stated: k1 lies within k = 2 in 92 to 98 % of 250, to two binomial u."""
    generator = np.random.default_rng(11)
    inside = []
    for _ in range(250):
        k2 = generator.normal(0, K2_U)
        room, setting = filmed(generator, k1=K1, k2=k2)
        solved = alone(setting, room.sighted()).solved
        assert solved is not None
        inside.append(abs(solved.k1 - K1) <= 2 * solved.u)
    low, high = (2 * math.sqrt(p * (1 - p) / len(inside)) for p in (0.92, 0.98))
    assert 0.92 - low <= np.mean(inside) <= 0.98 + high


def test_the_bending_is_an_input_of_every_number_and_no_focal_length_is_needed() -> None:
    """A length from the picture's corner comes right, with k2 in its budget; uncorrected it is wrong."""
    room, setting = filmed(np.random.default_rng(0), click_u=0.0, k1=K1)
    observations = room.sighted()
    found = Survey(setting, observations).distance(At("navel", 0), At("c7", 0), "level")
    assert isinstance(found, Measured), str(found)
    assert found.low <= 1.9 <= found.high
    assert found.value == pytest.approx(1.9, abs=0.01)
    words = {share.words for share in found.budget.shares}
    assert "second coefficient of the lens, expected" in words
    bare = Survey(replace(setting, lens=Lens()), observations).distance(At("navel", 0), At("c7", 0), "level")
    assert isinstance(bare, Measured)
    assert not bare.low <= 1.9 <= bare.high


def test_one_lens_serves_all_numbers_of_a_clip() -> None:
    """The difference of two equal lengths side by side is surer than either: their lens errs alike."""
    room, setting = filmed(np.random.default_rng(0), click_u=0.0, k1=K1)
    survey = Survey(setting, room.sighted())
    first = survey.distance(At("left-0", 0), At("left-5", 0))
    second = survey.distance(At("right-0", 0), At("right-5", 0))
    assert isinstance(first, Measured) and isinstance(second, Measured)
    difference = Survey.difference(first, second)
    assert isinstance(difference, Measured)
    assert difference.u < 0.8 * math.hypot(first.u, second.u)


def test_a_mark_off_its_line_is_reported_and_widens_the_rest() -> None:
    """12 px off in the middle of an edge, against 1.5 px for a click: that edge alone is named."""
    room, setting = filmed(np.random.default_rng(0), click_u=0.0, k1=K1)
    observations = room.sighted()
    before = Survey(setting, observations).lens
    moved = [replace(s, y=s.y + 12) if s.mark == "ceiling-2" else s for s in observations]
    survey = Survey(setting, moved)
    warnings = [words for words in survey.warnings if "straight" in words]
    assert len(warnings) == 1 and "ceiling-0, ceiling-1, ceiling-2" in warnings[0]
    assert before is not None and survey.lens is not None
    assert survey.lens.u > 1.2 * before.u
    assert survey.lens.residual > 2


def test_lines_that_give_no_bending_are_refused_with_the_way_out() -> None:
    """Three marks a hand apart beside the axis, and lines through it, bend by less than a click."""
    generator = np.random.default_rng(3)
    room = Room(TrueCamera(focal=ASSUMED, k1=K1), generator, click_u=1.5)
    near = put_lines(room, 3, reach=0.15)
    room.put("navel", 0, -1.2, -0.9)
    room.put("c7", 0, -1.2, -0.3)
    setting = Setting("drawn", SIZE, camera=Camera(4.3, 0.05, still=True), lens=Lens(straight=near))
    survey = Survey(setting, room.sighted())
    assert survey.lens is None
    found = survey.tilt(At("navel", 0), At("c7", 0))
    assert not found and not isinstance(found, Measured)
    assert "do not tell how the lens bends" in found.reason
    assert "near the picture's edges" in found.way_out
    assert len(survey.vertical((300.0, 300.0), 0)) == 2  # drawn as if the lens were straight
    unplaced = Survey(replace(setting, lens=Lens(straight=(("no-a", "no-b", "no-c"),))), room.sighted())
    assert "fewer than three placed marks" in str(unplaced.tilt(At("navel", 0), At("c7", 0)))


def test_a_line_through_the_axis_alone_is_refused() -> None:
    """A radius stays straight whatever the lens does."""
    room = Room(TrueCamera(focal=ASSUMED, k1=K1), np.random.default_rng(0), click_u=0.0)
    for step in range(6):
        room.put(f"beam-{step}", 0, 0.35 * (step - 2.5), 0.2 * (step - 2.5))
    line = tuple(f"beam-{step}" for step in range(6))
    room.put("navel", 0, -0.2, -0.2)
    setting = Setting("drawn", SIZE, camera=Camera(4.3, 0.05, still=True), lens=Lens(straight=(line,)))
    assert "do not tell" in str(Survey(setting, room.sighted()).tilt(At("navel", 0), At("beam-3", 0)))


def test_drawn_lines_bend_as_with_the_true_coefficients() -> None:
    """The vertical drawn with a solved lens lies on that drawn with the card's k1 and focal length."""
    room, setting = filmed(np.random.default_rng(0), click_u=0.0, k1=K1)
    observations = room.sighted()
    solved = Survey(setting, observations).vertical((250.0, 400.0), 0)
    stated = Survey(replace(setting, lens=Lens(K1, focal=ASSUMED)), observations).vertical((250.0, 400.0), 0)
    assert len(solved) > 10
    inside = [(a, b) for a, b in zip(solved, stated, strict=True) if 0 <= a[1] <= SIZE[1]]
    assert len(inside) > 5
    assert max(math.dist(a, b) for a, b in inside) < 0.5


@pytest.mark.parametrize(("free", "limit"), [(1, 10.1), (4, 17.6), (20, 43.9)])
def test_the_limit_of_doubt_is_that_of_the_chi_square_table(free: int, limit: float) -> None:
    """scipy.stats.chi2.ppf(0.99865): 10.27, 17.80, 43.99; the cube-root approximation is within 2 %."""
    assert chi_square_limit(free) == pytest.approx(chi2.ppf(0.99865, free), rel=0.03)
    assert chi_square_limit(free) == pytest.approx(limit, rel=0.05)
