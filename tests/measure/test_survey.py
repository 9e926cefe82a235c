"""What a survey answers: signs, words, what it shares between numbers, and what it refuses."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from lessonpress.measure import At, Camera, Depth, KnownLength, Measured, Refusal, Setting, Survey
from lessonpress.records.mark import Observation
from lessonpress.records.view import VIEWS, View

SIZE = (1280, 720)
PX = 330.0  # picture px for a metre of the stick below


def marks(places: dict[tuple[str, int], tuple[float, float]]) -> list[Observation]:
    return [Observation(mark, frame, x, y) for (mark, frame), (x, y) in places.items()]


ROOM = marks(
    {
        ("door-top", 0): (250, 100),
        ("door-foot", 0): (250, 640),
        ("stick-top", 0): (940, 300),
        ("stick-foot", 0): (940, 300 + PX),
    }
)
BODY = marks(
    {
        ("navel", 0): (640, 400),
        ("c7", 0): (600, 260),
        ("lead-hip", 0): (690, 410),
        ("trail-hip", 0): (590, 410),
        ("navel", 9): (610, 398),
    }
)
SETTING = Setting(
    "clip",
    SIZE,
    camera=Camera(4.3, 0.15, still=True),
    plumb=(("door-top", "door-foot"),),
    scales=(KnownLength(("stick-top", "stick-foot"), 1.0, 0.002),),
    stature=1.8,
    middles={"pelvis": ("lead-hip", "trail-hip")},
    room=frozenset({"door-top", "door-foot", "stick-top", "stick-foot"}),
)
NAVEL, C7, LATER = At("navel", 0), At("c7", 0), At("navel", 9)


def measured(found: Measured | Refusal) -> Measured:
    assert isinstance(found, Measured), str(found)
    return found


def refused(found: Measured | Refusal) -> Refusal:
    assert isinstance(found, Refusal) and not found
    return found


def test_a_tilt_toward_the_target_is_positive() -> None:
    """Face-on and right-handed the target is at the right; c7 leans to the left, away from it."""
    found = measured(Survey(SETTING, ROOM + BODY).tilt(NAVEL, C7))
    assert found.value < 0
    assert found.way == "away from the target"
    left = measured(Survey(replace(SETTING, hand="left"), ROOM + BODY).tilt(NAVEL, C7))
    assert left.value == pytest.approx(-found.value)
    assert left.way == "toward the target"


def test_down_the_line_the_level_axis_runs_toward_the_ball() -> None:
    """Down the line a right-hander's ball is at the right of the picture: left is away from the ball."""
    found = measured(Survey(replace(SETTING, view="down-the-line"), ROOM + BODY).shift(NAVEL, LATER))
    assert found.value < 0
    assert found.way == "away from the ball"
    assert found.plane == "subject plane, down-the-line"


def test_a_shift_keeps_the_size_the_stick_gives() -> None:
    """30 px at 330 px a metre are 0.0909 m, whatever the camera's distance (length is a ratio of px).

    With the stick and the navel in one plane, that is; the card says so.
    """
    setting = replace(SETTING, depth={"navel": Depth(0.0, 0.02)})
    found = measured(Survey(setting, ROOM + BODY).shift(NAVEL, LATER))
    assert found.value == pytest.approx(-30 / PX, rel=1e-6)
    assert (found.k, found.axis, found.frames, found.marks) == (2.0, "level", (0, 9), ("navel",))
    assert found.low == pytest.approx(found.value - found.uncertainty)


def test_a_plumb_shift_is_named_up_or_down() -> None:
    """Two px higher in the picture is up."""
    assert measured(Survey(SETTING, ROOM + BODY).shift(NAVEL, LATER, "plumb")).way == "up"


def test_a_clock_direction_is_that_of_the_picture() -> None:
    """A line up and to the left reads 11 o'clock or so, for either hand."""
    for hand in ("right", "left"):
        found = measured(Survey(replace(SETTING, hand=hand), ROOM + BODY).clock(NAVEL, C7))
        assert 300 < found.value < 360
        assert found.way == ""


def test_in_a_mirrored_picture_a_clock_direction_is_turned_about() -> None:
    """Mirrored about the upright axis a direction of 330° reads 30°, with the same ±."""
    survey = Survey(SETTING, ROOM + BODY)
    filmed, shown = measured(survey.clock(NAVEL, C7)), measured(survey.clock(NAVEL, C7, mirrored=True))
    assert shown.value == pytest.approx(360 - filmed.value)
    assert shown.uncertainty == pytest.approx(filmed.uncertainty)


def test_an_inside_angle_does_not_know_its_side() -> None:
    """The angle between two arms is the same read from either, and lies in 0 to 180."""
    survey = Survey(SETTING, ROOM + BODY)
    one, other = survey.angle(At("lead-hip", 0), NAVEL, C7), survey.angle(C7, NAVEL, At("lead-hip", 0))
    assert measured(one).value == pytest.approx(measured(other).value)
    assert 0 <= measured(one).value <= 180


def test_the_middle_of_two_marks_is_the_mean_of_their_places() -> None:
    """The pelvis lies between the hips: level distances to them are equal and opposite."""
    survey = Survey(SETTING, ROOM + BODY)
    lead = measured(survey.distance(At("pelvis", 0), At("lead-hip", 0), "level"))
    trail = measured(survey.distance(At("pelvis", 0), At("trail-hip", 0), "level"))
    assert lead.value == pytest.approx(-trail.value, rel=1e-6)


def test_the_same_mark_twice_shares_its_errors() -> None:
    """A tilt less itself is nothing, without uncertainty: both rest on the same inputs."""
    survey = Survey(SETTING, ROOM + BODY)
    one, again = measured(survey.tilt(NAVEL, C7)), measured(survey.tilt(NAVEL, C7))
    assert (one.variable - again.variable).std_dev == pytest.approx(0, abs=1e-9)


def test_a_common_depth_cancels_in_a_shift_and_not_in_a_distance() -> None:
    """The navel's own depth, common to all frames, brings less to its shift than to a distance."""
    placed = [replace(s, x=s.x + 300) for s in BODY]
    survey = Survey(SETTING, ROOM + placed)

    def share(found: Measured, words: str) -> float:
        return sum(
            (s.share * (found.uncertainty / 2) ** 2 for s in found.budget.shares if s.words == words), 0.0
        )

    shift = measured(survey.shift(NAVEL, LATER))
    distance = measured(survey.distance(NAVEL, C7, "level"))
    assert share(shift, "depth of navel, all frames") < share(distance, "depth of navel, all frames") / 50


def test_a_stated_depth_narrows_the_tilt() -> None:
    """The way to a narrower number is to state the depths of its marks."""
    aside = [replace(s, x=s.x + 350) for s in BODY]
    stated = replace(SETTING, depth={"navel": Depth(0.0, 0.01), "c7": Depth(0.2, 0.01)})
    wide = measured(Survey(SETTING, ROOM + aside).tilt(NAVEL, C7))
    narrow = measured(Survey(stated, ROOM + aside).tilt(NAVEL, C7))
    assert narrow.uncertainty < wide.uncertainty


def test_a_depth_by_instant_is_straight_in_time_between() -> None:
    """Half-way between two named frames the depth is the mean of theirs, unknowns included."""
    depth = {"navel": {0: Depth(0.0, 0.02), 18: Depth(0.4, 0.02)}}
    half = replace(SETTING, depth={"navel": Depth(0.2, 0.02)})
    by_frame = Survey(replace(SETTING, depth=depth), ROOM + BODY).distance(At("door-foot", 0), LATER, "level")
    assert measured(by_frame).value == pytest.approx(
        measured(Survey(half, ROOM + BODY).distance(At("door-foot", 0), LATER, "level")).value
    )


def test_a_tilt_of_navel_to_c7_is_good_to_some_two_and_a_half_degrees() -> None:
    """About ± 2.6° with the golfer in the middle of the picture (tried by simulation on drawn golfers)."""
    assert measured(Survey(SETTING, ROOM + BODY).tilt(NAVEL, C7)).uncertainty == pytest.approx(2.6, abs=0.6)


def test_the_trade_s_own_figures_agree_with_each_other() -> None:
    """4 in back by the top and 12 in through by impact leave the navel 8 in ahead of a hub that stayed, and a
    16 in line leaning 30° (common practice of the trade, no published source; asin(8/16) = 30°).
    """
    inch = PX * 0.0254
    setting = replace(SETTING, depth={"navel": Depth(0, 0), "c7": Depth(0, 0)})
    c7_up = math.sqrt(16**2 - 8**2)
    body = marks(
        {
            ("navel", 0): (640, 400),
            ("navel", 1): (640 - 4 * inch, 400),
            ("navel", 2): (640 + 8 * inch, 400),
            ("c7", 2): (640, 400 - c7_up * inch),
        }
    )
    survey = Survey(setting, ROOM + body)
    back = measured(survey.shift(At("navel", 0), At("navel", 1)))
    through = measured(survey.shift(At("navel", 1), At("navel", 2)))
    tilt = measured(survey.tilt(At("navel", 2), At("c7", 2)))
    length = measured(survey.distance(At("navel", 2), At("c7", 2)))
    assert back.value / 0.0254 == pytest.approx(-4)
    assert through.value / 0.0254 == pytest.approx(12)
    assert length.value / 0.0254 == pytest.approx(16)
    assert (tilt.value, tilt.way) == (pytest.approx(-30), "away from the target")


@given(st.floats(-300, 300), st.floats(-100, 100))
def test_moving_all_points_aside_leaves_a_shift_as_it_was(right: float, down: float) -> None:
    """A level camera without pitch measures a shift alike all over the picture."""
    moved = [replace(s, x=s.x + right, y=s.y + down) for s in BODY]
    still = measured(Survey(SETTING, ROOM + BODY).shift(NAVEL, LATER))
    assert measured(Survey(SETTING, ROOM + moved).shift(NAVEL, LATER)).value == pytest.approx(still.value)


@given(st.floats(-20, 20))
def test_a_turned_camera_measures_the_same(turn: float) -> None:
    """Turning the whole picture about its centre turns the plumb line too: tilt and shift stay."""
    cos_t, sin_t = math.cos(math.radians(turn)), math.sin(math.radians(turn))

    def turned(s: Observation) -> Observation:
        x, y = s.x - SIZE[0] / 2, s.y - SIZE[1] / 2
        return replace(s, x=SIZE[0] / 2 + x * cos_t - y * sin_t, y=SIZE[1] / 2 + x * sin_t + y * cos_t)

    straight, round_about = Survey(SETTING, ROOM + BODY), Survey(SETTING, [turned(s) for s in ROOM + BODY])
    for ask in (lambda s: s.tilt(NAVEL, C7), lambda s: s.shift(NAVEL, LATER), lambda s: s.clock(NAVEL, C7)):
        assert measured(ask(round_about)).value == pytest.approx(measured(ask(straight)).value, abs=1e-6)


@given(st.floats(0.5, 3))
def test_a_larger_picture_measures_the_same(factor: float) -> None:
    """Scaling picture and points together changes no number and no ±: a click's u grows along."""
    larger = replace(SETTING, size=(round(1280 * factor), round(720 * factor)))
    exact = larger.size[0] / 1280, larger.size[1] / 720
    grown = [replace(s, x=s.x * exact[0], y=s.y * exact[0]) for s in ROOM + BODY]
    found = measured(Survey(larger, grown).distance(NAVEL, C7, "level"))
    plain = measured(Survey(SETTING, ROOM + BODY).distance(NAVEL, C7, "level"))
    assert found.value == pytest.approx(plain.value, rel=5e-3)
    assert found.uncertainty == pytest.approx(plain.uncertainty, rel=0.1)


def test_a_mirrored_clip_measures_the_same() -> None:
    """A left-hander filmed from the mirrored place is a right-hander in the mirror."""
    mirror = [replace(s, x=SIZE[0] - s.x) for s in ROOM + BODY]
    survey, mirrored = Survey(SETTING, ROOM + BODY), Survey(replace(SETTING, hand="left"), mirror)
    for ask in (lambda s: s.tilt(NAVEL, C7), lambda s: s.shift(NAVEL, LATER)):
        assert measured(ask(mirrored)).value == pytest.approx(measured(ask(survey)).value)
        assert measured(ask(mirrored)).uncertainty == pytest.approx(measured(ask(survey)).uncertainty)


def test_lengths_without_a_scale_are_refused_and_angles_are_not() -> None:
    """A tilt needs no scale; a length does, and the refusal says what to add."""
    survey = Survey(replace(SETTING, scales=()), ROOM + BODY)
    assert "known length" in refused(survey.shift(NAVEL, LATER)).way_out
    assert survey.lengths_refused is not None and survey.px_per_metre() is None
    plain = measured(Survey(SETTING, ROOM + BODY).tilt(NAVEL, C7))
    assert measured(survey.tilt(NAVEL, C7)).value == pytest.approx(plain.value, abs=0.2)
    assert any("focal length" in words for words in measured(survey.tilt(NAVEL, C7)).assumed)


def test_a_wall_scale_without_distances_is_refused_with_its_error() -> None:
    """Says how wrong the number would have been: 1 m behind a golfer 4 m away makes 25 % (5/4)."""
    scale = KnownLength(("stick-top", "stick-foot"), 1.0, 0.002, plane="wall")
    found = refused(Survey(replace(SETTING, scales=(scale,)), ROOM + BODY).shift(NAVEL, LATER))
    assert "25 %" in found.reason
    assert "wall" in found.way_out


def test_a_wall_scale_is_carried_by_the_distances() -> None:
    """A length on a wall 5 m away counts 4/5 of its size on a golfer 4 m away."""
    camera = Camera(4.0, 0.1, wall=5.0, wall_within=0.1, still=True)
    scale = KnownLength(("stick-top", "stick-foot"), 1.0, 0.002, plane="wall")
    flat = {"navel": Depth(0.0, 0.02)}
    found = Survey(replace(SETTING, camera=camera, scales=(scale,), depth=flat), ROOM + BODY).shift(
        NAVEL, LATER
    )
    assert measured(found).value == pytest.approx(-30 / PX * 4 / 5)


def test_a_moving_camera_of_unknown_motion_gives_no_shift() -> None:
    """Points of two pictures belong to one room only when the camera was still or its motion is known."""
    setting = replace(SETTING, camera=Camera(4.3, 0.15))
    assert "still: true" in refused(Survey(setting, ROOM + BODY).shift(NAVEL, LATER)).way_out
    assert measured(Survey(setting, ROOM + BODY).tilt(NAVEL, C7))


def test_a_missing_mark_is_refused_by_name() -> None:
    """The refusal names mark and frame."""
    assert (
        refused(Survey(SETTING, ROOM + BODY).tilt(NAVEL, At("c7", 9))).reason == "c7 is not marked on frame 9"
    )


def test_ends_within_their_own_uncertainty_have_no_direction() -> None:
    """Two marks 3 px apart give no tilt, no angle and no clock time."""
    near = [*BODY, Observation("head", 0, 642, 402)]
    survey = Survey(SETTING, ROOM + near)
    for found in (
        survey.tilt(NAVEL, At("head", 0)),
        survey.clock(NAVEL, At("head", 0)),
        survey.angle(At("head", 0), NAVEL, C7),
    ):
        assert "no direction" in refused(found).reason


def test_a_straight_length_near_nothing_is_refused() -> None:
    """It cannot be less than zero, so its errors do not cancel; level and plumb keep a sign."""
    near = [*BODY, Observation("head", 0, 642, 402)]
    survey = Survey(SETTING, ROOM + near)
    assert "level or plumb" in refused(survey.distance(NAVEL, At("head", 0))).way_out
    assert measured(survey.distance(NAVEL, At("head", 0), "level"))


def test_overhead_has_no_upright_plane() -> None:
    """From above only directions and inside angles are measured."""
    survey = Survey(replace(SETTING, view="overhead", target_right=1), ROOM + BODY)
    assert "upright" in refused(survey.tilt(NAVEL, C7)).reason
    assert "upright" in refused(survey.distance(NAVEL, C7)).reason
    assert measured(survey.clock(NAVEL, C7)) and measured(survey.angle(At("lead-hip", 0), NAVEL, C7))


@pytest.mark.parametrize("view", [view for view in VIEWS if view != "overhead"])
def test_every_number_says_its_plane_and_its_working(view: View) -> None:
    """A row of the ledger has a plane, a worked formula and shares that add up to nearly all of it."""
    found = measured(Survey(replace(SETTING, view=view), ROOM + BODY).tilt(NAVEL, C7))
    assert view in found.plane
    assert "atan2" in found.budget.worked
    assert sum(share.share for share in found.budget.shares) == pytest.approx(1, abs=0.01)
    assert list(found.budget.shares) == sorted(
        found.budget.shares, key=lambda share: (-share.share, share.words)
    )


def test_the_pitch_that_one_plumb_line_cannot_give_is_said() -> None:
    """One line leaves the pitch unknown, and every number says so."""
    assert "one plumb line: pitch 0°, u 3°" in measured(Survey(SETTING, ROOM + BODY).tilt(NAVEL, C7)).assumed


def test_a_tracked_place_shares_the_click_it_began_from() -> None:
    """Between two places carried from one click that click's error cancels; their own u stays."""
    own = 0.3
    tracked = [
        Observation("navel", frame, 640 + frame, 400, own, tracked=True, origin=0) for frame in range(1, 10)
    ]
    survey = Survey(SETTING, [*ROOM, Observation("navel", 0, 640, 400), *tracked])
    found = measured(survey.shift(At("navel", 1), At("navel", 9)))
    words = {share.words for share in found.budget.shares if share.share > 0.01}
    assert "tracking of navel, frame 9, across" in words
    assert not any(word.startswith("click on navel") for word in words)


def test_a_number_says_that_it_rests_on_a_suggested_mark_and_has_its_u() -> None:
    """So does one that rests on a place carried from there; one that does not says nothing of it."""
    there = Observation("navel", 0, 640, 400, 12.0, suggested=True)
    tracked = Observation("navel", 5, 620, 400, 0.3, tracked=True, origin=0)
    by_hand = Survey(SETTING, ROOM + BODY)
    survey = Survey(SETTING, [*ROOM, *(one for one in BODY if one != BODY[0]), there, tracked])
    words = "navel, frame 0, lies where it was suggested; no hand placed it"
    assert words in measured(survey.tilt(NAVEL, C7)).assumed
    assert words in measured(survey.shift(At("navel", 5), LATER)).assumed
    assert words not in measured(survey.tilt(At("lead-hip", 0), C7)).assumed
    assert measured(survey.tilt(NAVEL, C7)).u > 3 * measured(by_hand.tilt(NAVEL, C7)).u


def test_several_placings_of_the_room_s_marks_are_averaged() -> None:
    """Clicking a room mark on four frames halves what its clicks bring."""
    again = [replace(s, frame=frame) for s in ROOM for frame in (1, 2, 3)]

    def clicks(observations: list[Observation]) -> float:
        found = measured(Survey(SETTING, observations).tilt(NAVEL, C7))
        parts = [s.share for s in found.budget.shares if s.words.startswith("click on door")]
        return sum(parts) * found.u**2

    assert clicks(ROOM + again + BODY) == pytest.approx(clicks(ROOM + BODY) / 4, rel=0.05)


def test_the_room_s_vertical_is_drawn_through_a_point() -> None:
    """With a door that leans in the picture, the vertical through a mark leans with it."""
    leaning = [replace(s, x=s.x + (12 if s.mark == "door-top" else 0)) for s in ROOM]
    (x0, y0), (x1, y1) = Survey(SETTING, leaning + BODY).vertical((640, 400))
    assert math.atan2(x1 - x0, y0 - y1) == pytest.approx(math.atan2(12, 540), abs=1e-6)
    assert y0 > 720 and y1 < 0
