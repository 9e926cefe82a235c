"""The camera solved from plumb lines, known lengths, the lens and the distances of a card."""

from __future__ import annotations

import math
from dataclasses import replace

import cv2
import numpy as np
import pytest

from lessonpress.measure import (
    At,
    Camera,
    Depth,
    KnownLength,
    Lens,
    Measured,
    Motion,
    Refusal,
    Setting,
    Standing,
    Survey,
    WallGrid,
)
from lessonpress.measure.optics.bend import distorted, undistorted
from lessonpress.records.mark import Observation
from tests.measure.studio import SIZE, Room, TrueCamera

STICK = KnownLength(("stick-top", "stick-foot"), 1.0, 0.002)


def room(camera: TrueCamera) -> Room:
    """Exact marks of a stick, two doors, a wall grid, a navel and a c7, all seen without any error."""
    found = Room(camera, np.random.default_rng(0), click_u=0.0)
    for name, x, depth in (("door", -1.3, -0.7), ("post", 1.3, -0.7)):
        found.put(f"{name}-foot", 0, x, -1.0, depth)
        found.put(f"{name}-top", 0, x, 1.0, depth)
    found.put("stick-foot", 0, 0.6, -1.0)
    found.put("stick-top", 0, 0.6, 0.0)
    found.put("navel", 0, 0.2, -0.2)
    found.put("c7", 0, 0.1, 0.3)
    found.put("navel", 9, 0.0, -0.25)
    for mark, x, y in (("a", -0.5, 0.8), ("b", 0.7, 0.8), ("c", 0.7, -0.1), ("d", -0.5, -0.1)):
        found.put(mark, 0, x, y, camera.distance - 6.0)
    return found


FLAT = {"navel": Depth(0.0, 0.0), "c7": Depth(0.0, 0.0)}


def setting(**changes: object) -> Setting:
    plain = Setting(
        "drawn",
        SIZE,
        camera=Camera(4.3, 0.05, 6.0, 0.1, still=True),
        plumb=(("door-top", "door-foot"),),
        scales=(STICK,),
        stature=1.8,
        depth=FLAT,
        room=frozenset({"door-top", "door-foot", "post-top", "post-foot", "stick-top", "stick-foot"}),
    )
    return replace(plain, **changes)  # type: ignore[arg-type]


TWO = (("door-top", "door-foot"), ("post-top", "post-foot"))


def measured(found: Measured | Refusal) -> Measured:
    assert isinstance(found, Measured), str(found)
    return found


@pytest.mark.parametrize("pitch", [-18, -5, 0, 7, 15])
@pytest.mark.parametrize("roll", [-4, 0, 6])
def test_two_plumb_lines_give_roll_pitch_and_focal_length(roll: float, pitch: float) -> None:
    """A camera known to OpenCV is found from two plumb lines, a stick in the plane and its distance."""
    camera = TrueCamera(math.radians(roll), math.radians(pitch), 1400.0, 4.3)
    pose = Survey(setting(plumb=TWO), room(camera).sighted()).scene.pose
    assert math.degrees(pose.attitude.roll[0]) == pytest.approx(roll, abs=0.01)
    assert math.degrees(pose.attitude.pitch[0]) == pytest.approx(pitch, abs=0.01)
    assert pose.attitude.focal[0] == pytest.approx(1400, rel=1e-3)


def test_lengths_are_those_of_the_upright_plane() -> None:
    """A camera looking 15° down shows a body shortened; with the pitch solved its height comes back."""
    camera = TrueCamera(0, math.radians(-15), 1400.0, 4.3)
    observations = room(camera).sighted()
    solved = measured(Survey(setting(plumb=TWO), observations).distance(At("navel", 0), At("c7", 0), "plumb"))
    assert solved.value == pytest.approx(0.5, abs=1e-3)


def test_a_drawn_vertical_converges_as_the_room_s_do() -> None:
    """With two plumb lines a vertical through one end of a door passes through the other end."""
    camera = TrueCamera(math.radians(2), math.radians(-15), 1400.0, 4.3)
    drawn = room(camera)
    survey = Survey(setting(plumb=TWO), drawn.sighted())
    for name in ("door", "post"):
        foot, top = survey.position(At(f"{name}-foot", 0)), survey.position(At(f"{name}-top", 0))
        (x0, y0), (x1, y1) = survey.vertical(foot)
        off = abs((x1 - x0) * (top[1] - y0) - (y1 - y0) * (top[0] - x0)) / math.hypot(x1 - x0, y1 - y0)
        assert off < 0.2


def test_a_single_line_at_the_side_takes_pitch_for_roll() -> None:
    """6° of pitch, 18° off the axis: 2° of tilt. tan 18° × sin 6° is 1.9°, and the budget carries it."""
    x = 4.3 * math.tan(math.radians(18))
    camera = TrueCamera(0, math.radians(6), 1400.0, 4.3)
    drawn = Room(camera, np.random.default_rng(0), click_u=0.0)
    for mark, at, y in (
        ("door-foot", x, -0.3),
        ("door-top", x, 0.3),
        ("stick-foot", 0, -0.5),
        ("stick-top", 0, 0.5),
        ("navel", 0.0, -0.3),
        ("c7", 0.0, 0.3),
    ):
        drawn.put(mark, 0, at, y)
    found = measured(Survey(setting(), drawn.sighted()).tilt(At("navel", 0), At("c7", 0)))
    assert abs(found.value) == pytest.approx(1.9, abs=0.2)
    assert found.low < 0 < found.high
    assert "pitch of the camera" in {share.words for share in found.budget.shares[:3]}


def test_plumb_lines_close_together_do_not_pretend_to_know_the_pitch() -> None:
    """Two lines a hand apart near the axis would give the pitch to tens of degrees: it stays unknown."""
    drawn = room(TrueCamera(0, 0, 1400.0, 4.3))
    for name, x in (("door", -0.05), ("post", 0.05)):
        for end, y in (("foot", -0.3), ("top", 0.3)):
            drawn.put(f"{name}-{end}", 0, x, y)
    survey = Survey(setting(plumb=TWO), drawn.sighted())
    assert any("too close together" in words for words in survey.assumptions)


def test_a_wall_grid_and_the_distances_give_the_golfer_s_size() -> None:
    """cv2.getPerspectiveTransform of the grid agrees, times D over the distance of the wall."""
    drawn = room(TrueCamera(0, 0, 1400.0, 4.3))
    grid = WallGrid(("a", "b", "c", "d"), (1.2, 0.9), 0.002)
    survey = Survey(setting(scales=(grid,)), drawn.sighted())
    found = measured(survey.shift(At("navel", 0), At("navel", 9)))
    assert found.value == pytest.approx(-0.2, abs=1e-3)
    corners = np.array([survey.position(At(mark, 0)) for mark in "abcd"], dtype=np.float32)
    flat = np.array([(0, 0.9), (1.2, 0.9), (1.2, 0), (0, 0)], dtype=np.float32)
    h = cv2.getPerspectiveTransform(corners, flat)
    places = np.array([[survey.position(At("navel", frame)) for frame in (0, 9)]], dtype=np.float32)
    first, second = cv2.perspectiveTransform(places, h)[0]
    assert found.value == pytest.approx((second - first)[0] * 4.3 / 6.0, abs=1e-3)


def test_a_length_nearer_than_the_golfer_is_carried_to_the_plane() -> None:
    """A length 0.8 m before the plane shows D/(D − d) as large as in it."""
    drawn = room(TrueCamera(0, 0, 1400.0, 4.3))
    drawn.put("ball-left", 0, -0.2, -0.9, 0.8)
    drawn.put("ball-right", 0, -0.1, -0.9, 0.8)
    near = KnownLength(("ball-left", "ball-right"), 0.1, 0.0005, depth=Depth(0.8, 0.05))
    found = Survey(setting(scales=(near,)), drawn.sighted()).shift(At("navel", 0), At("navel", 9))
    assert measured(found).value == pytest.approx(-0.2, abs=1e-3)


def standing(stature: float | None) -> Survey:
    drawn = room(TrueCamera(0, 0, 1400.0, 4.3))
    drawn.put("crown", 3, 0.3, 0.7)
    drawn.put("lead-heel", 3, 0.3, -1.1)
    return Survey(setting(scales=(Standing(("crown", "lead-heel"), 3),), stature=stature), drawn.sighted())


def test_a_golfer_standing_upright_is_as_tall_as_the_stature() -> None:
    """1.8 m from crown to heel give the scale, with what stature and posture are worth."""
    found = measured(standing(1.8).shift(At("navel", 0), At("navel", 9)))
    assert found.value == pytest.approx(-0.2, abs=1e-3)
    assert "stature" in {share.words for share in found.budget.shares}


def test_a_golfer_of_unknown_stature_is_no_scale() -> None:
    """An assumed stature would be a plausible number, so it is refused."""
    found = standing(None).shift(At("navel", 0), At("navel", 9))
    assert isinstance(found, Refusal) and "stature" in found.way_out


def test_scales_that_disagree_are_both_named() -> None:
    """A stick and a standing golfer 10 % apart cannot both be right, and the warning names them."""
    drawn = room(TrueCamera(0, 0, 1400.0, 4.3))
    drawn.put("crown", 3, 0.3, 0.7)
    drawn.put("lead-heel", 3, 0.3, -1.1)
    scales = (STICK, Standing(("crown", "lead-heel"), 3))
    agreed = Survey(setting(scales=scales), drawn.sighted())
    assert agreed.warnings == ()
    other = Survey(setting(scales=scales, stature=1.98), drawn.sighted()).warnings
    assert any("stick-top" in words and "crown" in words and "disagree" in words for words in other)


def test_scales_are_weighed_by_their_uncertainties() -> None:
    """Together they are narrower than either alone, and nearer the better one."""
    drawn = room(TrueCamera(0, 0, 1400.0, 4.3))
    drawn.put("crown", 3, 0.3, 0.7)
    drawn.put("lead-heel", 3, 0.3, -1.1)
    upright = Standing(("crown", "lead-heel"), 3)
    u = [
        measured(Survey(setting(scales=scales), drawn.sighted()).distance(At("door-foot", 0), At("c7", 0))).u
        for scales in ((STICK,), (upright,), (STICK, upright))
    ]
    assert u[2] < u[0] < u[1]


def test_a_scale_that_makes_a_body_that_cannot_be_warns() -> None:
    """A hip breadth of 25 in is reported, against 0.191 of stature (Winter, from memory)."""
    drawn = room(TrueCamera(0, 0, 1400.0, 4.3))
    drawn.put("trail-hip", 0, -0.12, -0.3)
    drawn.put("lead-hip", 0, 0.12, -0.3)
    assert Survey(setting(), drawn.sighted()).warnings == ()
    wrong = replace(STICK, length=25 * 0.0254 / 0.24)
    warnings = Survey(setting(scales=(wrong,)), drawn.sighted()).warnings
    assert len(warnings) == 1 and "breadth of the hips" in warnings[0]


def test_an_assumed_distance_is_said() -> None:
    """4 m with u = 1 m is among the assumptions."""
    survey = Survey(setting(camera=Camera(still=True)), room(TrueCamera()).sighted())
    assert "camera distance 4 m, u 1 m" in measured(survey.tilt(At("navel", 0), At("c7", 0))).assumed


def test_focal_length_and_scale_give_the_distance() -> None:
    """Where the card has the focal length and no distance, D = f × metres per px."""
    survey = Survey(
        setting(camera=Camera(still=True), lens=Lens(focal=1400.0)), room(TrueCamera(focal=1400.0)).sighted()
    )
    assert survey.scene.pose.distance[0] == pytest.approx(4.3, rel=1e-3)


def test_the_lens_bends_as_opencv_s() -> None:
    """distorted = x (1 + k1 r² + k2 r⁴), r in focal lengths: cv2.projectPoints with the same k1 and k2."""
    lens = Lens(-0.18, 0.03, 900.0)
    p, q = np.array([300.0, -500.0, 10.0]), np.array([200.0, -250.0, 0.0])
    points = np.column_stack([p / 900, q / 900, np.ones(3)])
    inner = np.array([[900.0, 0, 0], [0, 900.0, 0], [0, 0, 1]])
    shown, _ = cv2.projectPoints(points, np.zeros(3), np.zeros(3), inner, np.array([-0.18, 0.03, 0, 0]))
    bent = distorted(lens, p, q)
    assert np.column_stack(bent) == pytest.approx(shown.reshape(-1, 2))
    assert np.column_stack(undistorted(lens, *bent)) == pytest.approx(np.column_stack([p, q]))


def test_a_lens_that_folds_the_picture_gives_nothing_beyond_the_fold() -> None:
    """Past the largest radius that the coefficients can show there is no point, so nan."""
    assert np.isnan(undistorted(Lens(-0.4, 0.0, 900.0), np.array([900.0]), np.array([0.0]))[0]).all()


def test_bending_without_a_focal_length_is_refused() -> None:
    """r is in focal lengths, so the coefficients mean nothing without one."""
    found = Survey(setting(lens=Lens(-0.1)), room(TrueCamera()).sighted()).tilt(At("navel", 0), At("c7", 0))
    assert isinstance(found, Refusal) and "focal" in found.way_out


def test_a_vertical_bends_as_the_lens_bends_it() -> None:
    """Through a door at the picture's side, the drawn vertical passes both ends and bows between."""
    camera = TrueCamera(0, 0, 1400.0, 4.3, k1=-0.25)
    drawn = room(camera)
    survey = Survey(setting(lens=Lens(-0.25, 0.0, 1400.0)), drawn.sighted())
    foot, top = survey.position(At("door-foot", 0)), survey.position(At("door-top", 0))
    line = np.array(survey.vertical(foot))
    assert len(line) > 10
    x_at_top = np.interp(-top[1], -line[:, 1], line[:, 0])
    assert x_at_top == pytest.approx(top[0], abs=0.5)
    middle = np.interp(-360, -line[:, 1], line[:, 0])
    assert middle < min(foot[0], top[0]) - 1


def hand_held(camera: Camera) -> Survey:
    """Frame 9 seen by a camera turned by 2° about its axis, its motion known exactly."""
    first = TrueCamera(0, 0, 1400.0, 4.3)
    later = replace(first, roll=math.radians(2), yaw=math.radians(1))
    drawn = room(first)
    drawn.moved[9] = later
    wall = [(x, y, -1.7) for x, y in ((-2, 1), (2, 1), (2, -1), (-2, -1))]
    carry = cv2.getPerspectiveTransform(
        later.project(wall).astype(np.float32), first.project(wall).astype(np.float32)
    )
    motion = Motion(np.stack([*[np.eye(3)] * 9, carry]), np.array([0.0] * 9 + [0.3]))
    return Survey(setting(camera=camera, motion=motion), drawn.sighted())


def test_a_camera_that_turned_is_turned_back() -> None:
    """A shift between pictures of a camera that only turned is what a still one measures."""
    found = measured(hand_held(Camera(4.3, 0.05, 6.0, 0.1)).shift(At("navel", 0), At("navel", 9)))
    assert found.value == pytest.approx(-0.2, abs=2e-3)


def test_sway_against_the_wall_is_in_the_budget() -> None:
    """5 cm of sway at 14 ft, the wall at 20 ft, moves a golfer's plane 0.6 in against the wall's:
    0.05 m × (1 − 14/20) = 15 mm (similar triangles).
    """
    foot = 0.3048
    found = measured(
        hand_held(Camera(14 * foot, 0.01, 20 * foot, 0.01)).shift(At("navel", 0), At("navel", 9))
    )
    part = next(share for share in found.budget.shares if "sway of the camera aside" in share.words)
    limit = math.sqrt(3) * math.sqrt(part.share) * found.u
    assert limit / 0.0254 == pytest.approx(0.6, abs=0.03)
    assert any("sway within 5 cm" in words for words in found.assumed)


def test_a_hand_held_shift_without_distances_is_refused() -> None:
    """What sway did is not known without the distances to golfer and wall."""
    found = hand_held(Camera(4.3, 0.05)).shift(At("navel", 0), At("navel", 9))
    assert isinstance(found, Refusal)
    assert "0.6 in" in found.reason and "wall" in found.way_out
    assert measured(hand_held(Camera(4.3, 0.05)).tilt(At("navel", 0), At("c7", 0)))


def test_a_standing_line_follows_the_room() -> None:
    """A place of the room carried to another frame is where that frame's camera sees it."""
    survey = hand_held(Camera(4.3, 0.05, 6.0, 0.1))
    there = survey.carried(survey.position(At("a", 0)), 0, 9)
    first = TrueCamera(0, 0, 1400.0, 4.3)
    seen = replace(first, roll=math.radians(2), yaw=math.radians(1)).project([(-0.5, 0.8, -1.7)])[0]
    assert there == pytest.approx(tuple(seen), abs=0.1)
    assert survey.position(At("a", 0), on=9) == pytest.approx(there)


def test_a_stated_focal_length_does_not_need_a_tracked_mark() -> None:
    """The camera is solved from the room's marks alone."""
    only_room = [s for s in room(TrueCamera()).sighted() if not s.mark.startswith(("navel", "c7"))]
    assert Survey(setting(), only_room).px_per_metre() == pytest.approx(1400 / 4.3, rel=1e-3)


def test_a_plumb_line_never_marked_is_left_out() -> None:
    """Its pair is ignored and the roll is unknown, as the assumptions say."""
    observations = [s for s in room(TrueCamera()).sighted() if not s.mark.startswith("door")]
    found = measured(Survey(setting(), observations).tilt(At("navel", 0), At("c7", 0)))
    assert any("no plumb line" in words for words in found.assumed)


def test_a_click_s_default_error_grows_with_the_picture() -> None:
    """1.5 px per 720 px of the shorter side; a stated one never counts for less than 0.5 px."""
    scene = Survey(replace(setting(), size=(3840, 2160)), [Observation("navel", 0, 1.0, 1.0)]).scene
    assert scene.observations.click_u(None) == pytest.approx(4.5)
    assert scene.observations.click_u(0.1) == 0.5


def test_a_pair_that_lies_is_no_plumb_line() -> None:
    """A door's sill named as plumb would turn every number by 90°: it is left out, and reported."""
    drawn = room(TrueCamera())
    drawn.put("door-top", 0, -0.3, -1.0)
    survey = Survey(setting(), drawn.sighted())
    assert any("lies rather than hangs" in words for words in survey.warnings)
    assert "no plumb line: roll 0°, u 2°" in survey.assumptions


def test_a_plumb_line_named_twice_counts_once() -> None:
    """The same door written both ways round gives no narrower number."""
    observations = room(TrueCamera()).sighted()
    once = measured(Survey(setting(), observations).tilt(At("navel", 0), At("c7", 0)))
    pairs = (("door-top", "door-foot"), ("door-foot", "door-top"))
    twice = measured(Survey(setting(plumb=pairs), observations).tilt(At("navel", 0), At("c7", 0)))
    assert twice.uncertainty == pytest.approx(once.uncertainty)


def test_a_known_length_without_length_in_the_picture_is_no_scale() -> None:
    """Two ends within their own error of each other are refused, with the way out."""
    drawn = room(TrueCamera())
    drawn.put("stick-top", 0, 0.6, -0.999)
    found = Survey(setting(), drawn.sighted()).shift(At("navel", 0), At("navel", 9))
    assert isinstance(found, Refusal) and "longer known length" in found.way_out


def test_a_grid_that_is_no_rectangle_warns_and_widens() -> None:
    """A corner 10 cm off is reported, and the misfit is in the budget."""
    grid = WallGrid(("a", "b", "c", "d"), (1.2, 0.9), 0.002)
    drawn = room(TrueCamera())
    good = Survey(setting(scales=(grid,)), drawn.sighted())
    drawn.put("a", 0, -0.6, 0.8, drawn.camera.distance - 6.0)
    bad = Survey(setting(scales=(grid,)), drawn.sighted())
    assert good.warnings == () and any("rectangle" in words for words in bad.warnings)
    shifts = [measured(s.shift(At("navel", 0), At("navel", 9))) for s in (good, bad)]
    assert shifts[1].uncertainty > shifts[0].uncertainty
    assert any(share.words.startswith("fit of the grid") for share in shifts[1].budget.shares)


def test_placings_of_the_room_that_disagree_are_reported() -> None:
    """A stick that moved between two pictures is not still."""
    drawn = room(TrueCamera())
    moved = Observation("stick-top", 9, 900.0, 300.0)
    assert any("stick-top" in words for words in Survey(setting(), [*drawn.sighted(), moved]).warnings)


def test_a_picture_that_could_not_be_laid_on_the_room_is_refused() -> None:
    """Where the camera's motion is not known on a frame, its points are refused by frame."""
    carry = np.stack([*[np.eye(3)] * 9, np.full((3, 3), np.nan)])
    motion = Motion(carry, np.zeros(10))
    survey = Survey(setting(camera=Camera(4.3, 0.05, 6.0, 0.1), motion=motion), room(TrueCamera()).sighted())
    found = survey.shift(At("navel", 0), At("navel", 9))
    assert isinstance(found, Refusal) and "frame 9" in found.reason
    assert measured(survey.tilt(At("navel", 0), At("c7", 0)))
