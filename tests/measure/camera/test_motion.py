"""Measures of a mark in motion: path, speed, circle; and turn, instead, tempo and differences."""

from __future__ import annotations

import math
from dataclasses import replace
from itertools import pairwise

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from lessonpress.measure import At, Camera, Depth, KnownLength, Measured, Refusal, Setting, Survey
from lessonpress.records.mark import Observation

SIZE = (1280, 720)
PX = 300.0  # px for a metre
RATE = 240.0
STICK = [Observation("stick-top", 0, 1000, 300), Observation("stick-foot", 0, 1000, 300 + PX)]
SETTING = Setting(
    "clip",
    SIZE,
    camera=Camera(4.3, 0.1, still=True),
    plumb=(("stick-top", "stick-foot"),),
    scales=(KnownLength(("stick-top", "stick-foot"), 1.0, 0.002),),
    stature=1.8,
    room=frozenset({"stick-top", "stick-foot"}),
    depth={"implement-head": Depth(0.0, 0.05), "c7": Depth(0.0, 0.05)},
    times=tuple(frame / RATE for frame in range(60)),
    readout=0.0,
)


def measured(found: Measured | Refusal) -> Measured:
    assert isinstance(found, Measured), str(found)
    return found


def refused(found: Measured | Refusal) -> Refusal:
    assert isinstance(found, Refusal)
    return found


def round_about(turn: float, frames: int = 30, radius: float = 1.0) -> list[Observation]:
    """A clubhead on a circle of `radius` m about the picture's centre, turning by `turn` deg a frame."""
    found = []
    for frame in range(frames):
        angle = math.radians(turn * frame + 200)
        x, y = 640 + radius * PX * math.cos(angle), 360 - radius * PX * math.sin(angle)
        found.append(Observation("implement-head", frame, x, y, 0.4, tracked=frame > 0, origin=0))
    return found


HEAD = "implement-head"


@pytest.mark.parametrize("turn", [0.5, 3, 8, 12, 18])
def test_a_speed_on_a_circle_is_radius_times_turn(turn: float) -> None:
    """v = r φ per picture, within half a percent: what the polynomial reads low is put right."""
    found = measured(Survey(SETTING, STICK + round_about(turn)).speed(At(HEAD, 12)))
    assert found.value == pytest.approx(math.radians(turn) * RATE, rel=0.005)
    assert found.dimension == "speed"


def test_more_turn_takes_a_polynomial_of_higher_degree() -> None:
    """A parabola to 10° a picture, a quartic to 20°, for more noise."""
    slow, fast = (measured(Survey(SETTING, STICK + round_about(t)).speed(At(HEAD, 12))) for t in (9, 12))
    assert "degree 2" in slow.budget.formula and "degree 4" in fast.budget.formula


def test_too_much_turn_a_picture_gives_no_speed() -> None:
    """Beyond 20° a picture a speed is refused, with the way out."""
    found = refused(Survey(SETTING, STICK + round_about(24)).speed(At(HEAD, 12)))
    assert "too much" in found.reason and "pictures per second" in found.way_out


def test_a_speed_needs_five_places_close_together() -> None:
    """Four places are too few, and so are five with holes between them."""
    few = round_about(3, frames=4)
    assert "five" in refused(Survey(SETTING, STICK + few).speed(At(HEAD, 2))).reason
    scattered = [s for s in round_about(3) if s.frame % 5 == 0]
    assert "five" in refused(Survey(SETTING, STICK + scattered).speed(At(HEAD, 10))).reason


def test_a_speed_is_never_read_across_impact() -> None:
    """A head that slows by a third at impact has its full speed up to it and two thirds after."""
    before = round_about(4, frames=21)
    last = 200 + 4 * 20
    after = []
    for frame in range(21, 40):
        angle = math.radians(last + 4 * 2 / 3 * (frame - 20))
        x, y = 640 + PX * math.cos(angle), 360 - PX * math.sin(angle)
        after.append(Observation(HEAD, frame, x, y, 0.4, tracked=True, origin=0))
    survey = Survey(replace(SETTING, impact=20), STICK + before + after)
    full = math.radians(4) * RATE
    at_impact, later = survey.speed(At(HEAD, 20)), survey.speed(At(HEAD, 21))
    assert measured(at_impact).value == pytest.approx(full, rel=0.005)
    assert measured(later).value == pytest.approx(full * 2 / 3, rel=0.005)


def test_the_end_of_a_track_costs_uncertainty() -> None:
    """A one-sided window is several times as noisy as one in the middle."""
    survey = Survey(SETTING, STICK + round_about(3))
    middle, end = measured(survey.speed(At(HEAD, 12))), measured(survey.speed(At(HEAD, 29)))

    def noise(found: Measured) -> float:
        tracking = sum(s.share for s in found.budget.shares if s.words.startswith("tracking"))
        return math.sqrt(tracking) * found.u

    assert noise(end) > 2 * noise(middle)


def test_an_unknown_readout_is_an_uncertainty_of_the_speed() -> None:
    """A mark moving up or down: speed × readout × its share of the height, from 0 to one picture's time.

    Over a picture of H px the times stretch by the rows a picture's time takes, over H, at most; half of that
    is put right and half is the limit.
    """
    survey = Survey(replace(SETTING, readout=None), STICK + round_about(4))
    found = measured(survey.speed(At(HEAD, 40 - 23)))
    part = next(s for s in found.budget.shares if s.words.startswith("time to read"))
    angle = math.radians(200 + 4 * 17)
    rows = math.radians(4) * PX * abs(math.cos(angle))  # px a picture, up or down
    limit = found.value * rows / SIZE[1] / 2
    assert math.sqrt(part.share) * found.u == pytest.approx(limit / math.sqrt(3), rel=0.05)
    assert any("readout" in words for words in found.assumed)


def test_a_stated_readout_stretches_the_times() -> None:
    """A head that moves down while the rows are read is seen later than its picture's time."""
    straight = [Observation(HEAD, f, 640, 100 + 20.0 * f, 0.4, tracked=f > 0, origin=0) for f in range(20)]
    readout = 1 / 480
    found = measured(Survey(replace(SETTING, readout=readout), STICK + straight).speed(At(HEAD, 10)))
    assert found.value == pytest.approx(20 * RATE / PX / (1 + readout * RATE * 20 / 720), rel=1e-3)


def test_a_mark_at_rest_has_no_speed() -> None:
    """A size cannot be below zero, so a speed within its own error is refused."""
    generator = np.random.default_rng(2)
    still = [
        Observation("c7", f, 600 + generator.normal(0, 0.3), 300 + generator.normal(0, 0.3), 0.4, True, 0)
        for f in range(20)
    ]
    assert isinstance(Survey(SETTING, STICK + still).speed(At("c7", 10)), Refusal)


def test_a_speed_needs_times() -> None:
    """Without the clip's times there is no speed and no tempo."""
    survey = Survey(replace(SETTING, times=None), STICK + round_about(3))
    assert "filmed_at" in refused(survey.speed(At(HEAD, 12))).way_out
    assert "filmed_at" in refused(survey.tempo(0, 10, 20)).way_out


def test_a_path_is_the_sum_of_its_chords() -> None:
    """29 chords of 2 r sin(φ/2) each (Euclid)."""
    found = measured(Survey(SETTING, STICK + round_about(6)).path(HEAD, 0, 29))
    assert found.value == pytest.approx(29 * 2 * math.sin(math.radians(3)), rel=1e-6)


def slowing(noise: float, seed: int = 3) -> tuple[list[Observation], float]:
    """A head that starts from rest and goes round an arc of 90°, tracked with noise in px; its path, m."""
    generator = np.random.default_rng(seed)
    found = []
    angles = np.radians(200 + 90 * (np.arange(60) / 59) ** 2)
    for frame, angle in enumerate(angles):
        place = np.array([640 + PX * math.cos(angle), 360 - PX * math.sin(angle)])
        x, y = (float(part) for part in place + generator.normal(0, noise, 2))
        found.append(Observation(HEAD, frame, x, y, noise, tracked=frame > 0, origin=0))
    return found, float(np.sum(2 * np.sin(np.abs(np.diff(angles)) / 2)))


def test_a_way_that_noise_would_lengthen_is_laid_on_parabolas() -> None:
    """A hand that is slow at the top: the chords of its places as tracked come out longer than the truth.

    The depth is stated, so that nothing but the places errs.
    """
    errors, untreated = [], []
    for seed in range(20):
        places, true = slowing(0.4, seed)
        found = measured(Survey(SETTING, STICK + places).path(HEAD, 0, 59))
        assert "parabola" in found.budget.formula
        assert found.low <= true <= found.high
        errors.append(found.value - true)
        untreated.append(sum(math.dist((a.x, a.y), (b.x, b.y)) for a, b in pairwise(places)) / PX - true)
    assert abs(np.mean(errors)) < 0.4 * np.mean(untreated)


def test_a_path_shorter_than_its_noise_is_refused() -> None:
    """A mark that hardly moves between pictures would be given a long way by its errors."""
    generator = np.random.default_rng(3)
    slow = [
        Observation("c7", f, 600 + 0.2 * f + generator.normal(0, 0.4), 300, 0.4, True, 0) for f in range(30)
    ]
    assert "shift" in refused(Survey(SETTING, STICK + slow).path("c7", 0, 29)).way_out


def test_a_path_needs_its_places() -> None:
    """Both ends, and half of the frames between them."""
    sparse = [s for s in round_about(3) if s.frame % 4 == 0]
    survey = Survey(SETTING, STICK + sparse)
    assert "too few" in refused(survey.path(HEAD, 0, 28)).reason
    assert "not marked on frame 29" in refused(survey.path(HEAD, 0, 29)).reason


def test_a_circle_has_its_radius_and_its_centre() -> None:
    """A head on a 1 m circle about a point 8 in below c7."""
    places = [*round_about(6), Observation("c7", 12, 640, 360 - 8 * 0.0254 * PX)]
    survey = Survey(SETTING, STICK + places)
    assert measured(survey.circle(HEAD, 0, 29)).value == pytest.approx(1.0, rel=1e-6)
    near = measured(survey.circle(HEAD, 0, 29, near=At("c7", 12)))
    assert near.value / 0.0254 == pytest.approx(8, rel=1e-3)


def test_a_centre_close_to_the_mark_is_not_given_a_distance() -> None:
    """Within its own error of the mark, the centre's distance is refused and the words are offered."""
    places = [*round_about(6), Observation("c7", 12, 641, 359)]
    found = refused(Survey(SETTING, STICK + places).circle(HEAD, 0, 29, near=At("c7", 12)))
    assert "close to c7" in found.way_out


def test_a_short_arc_has_no_circle() -> None:
    """Five places over 4° fit any circle."""
    places = round_about(1, frames=5)
    assert "too short" in refused(Survey(SETTING, STICK + places).circle(HEAD, 0, 4)).reason


def test_one_smooth_depth_does_not_average_away() -> None:
    """A circle's ± holds the mark's depth as one unknown: with many places it does not shrink to nothing."""
    unstated = replace(SETTING, depth={})
    few, many = (
        measured(
            Survey(unstated, STICK + [s for s in round_about(6) if s.frame % step == 0]).circle(HEAD, 0, 28)
        )
        for step in (2, 1)
    )
    assert many.uncertainty > 0.8 * few.uncertainty


def hips(frame: int, half: float) -> list[Observation]:
    return [
        Observation("trail-hip", frame, 640 - half * PX, 400),
        Observation("lead-hip", frame, 640 + half * PX, 400),
    ]


def test_a_turn_is_read_from_foreshortening() -> None:
    """A line half as wide as when square has turned by acos ½ = 60°."""
    stated = {"trail-hip": Depth(0.0, 0.02), "lead-hip": Depth(0.0, 0.02)}
    survey = Survey(replace(SETTING, depth=stated), STICK + hips(0, 0.16) + hips(9, 0.08))
    then, now = ((At("trail-hip", f), At("lead-hip", f)) for f in (0, 9))
    found = measured(survey.turn(then, now))
    assert found.value == pytest.approx(60, abs=1e-6)
    assert found.k is None and found.low < 60 < found.high
    assert any("square to the camera" in words for words in found.assumed)


def test_a_small_turn_is_printed_as_no_more_than() -> None:
    """Near square the cosine hardly changes: what is known is what the turn does not exceed."""
    survey = Survey(SETTING, STICK + hips(0, 0.16) + hips(9, 0.158))
    then, now = ((At("trail-hip", f), At("lead-hip", f)) for f in (0, 9))
    found = refused(survey.turn(then, now))
    assert found.reason.startswith("a turn of no more than ")


def test_a_turn_without_a_scale_says_that_a_scale_is_missing() -> None:
    """Not that the line is too short: nothing the author marks could change that."""
    survey = Survey(replace(SETTING, scales=()), STICK + hips(0, 0.16) + hips(9, 0.08))
    then, now = ((At("trail-hip", f), At("lead-hip", f)) for f in (0, 9))
    found = refused(survey.turn(then, now))
    assert "scale" in found.reason and "scale" in found.way_out


def test_a_turn_is_not_read_down_the_line() -> None:
    """From there the line is seen end on at first."""
    survey = Survey(replace(SETTING, view="down-the-line"), STICK + hips(0, 0.16) + hips(9, 0.08))
    then, now = ((At("trail-hip", f), At("lead-hip", f)) for f in (0, 9))
    assert "face on" in refused(survey.turn(then, now)).way_out


ARM = [
    Observation("trail-elbow", 9, 640, 400),
    Observation("trail-wrist", 9, 640, 300),
    Observation(HEAD, 9, 640 + 240 * math.sin(math.radians(60)), 300 + 240 * math.cos(math.radians(60))),
]
STATED = {mark: Depth(0.0, 0.02) for mark in ("trail-elbow", "trail-wrist", HEAD)}


def test_a_mark_turned_instead_moves_along_a_chord_or_an_arc() -> None:
    """From 60° to 90° at 0.8 m: the chord is 2 L sin(Δ/2), the arc L Δ (Euclid; any handbook)."""
    survey = Survey(replace(SETTING, depth=STATED), STICK + ARM)
    ends = At("trail-elbow", 9), At("trail-wrist", 9), At(HEAD, 9)
    chord, arc = survey.instead(*ends, to=90), survey.instead(*ends, to=90, along="arc")
    assert measured(chord).value == pytest.approx(2 * 0.8 * math.sin(math.radians(15)), rel=1e-6)
    assert measured(arc).value == pytest.approx(0.8 * math.radians(30), rel=1e-6)


def test_the_place_instead_lies_on_the_side_where_the_mark_is() -> None:
    """Turned to 90° from a forearm that hangs below, a head at the right is level at the right."""
    for hand in ("right", "left"):
        survey = Survey(replace(SETTING, hand=hand, depth=STATED), STICK + ARM)
        ends = At("trail-elbow", 9), At("trail-wrist", 9), At(HEAD, 9)
        assert survey.instead_place(*ends, to=90) == pytest.approx((880, 300), abs=1e-6)


def test_an_angle_that_is_there_already_gives_no_instead() -> None:
    """Within its ± of the angle asked for, there is nothing to print."""
    survey = Survey(replace(SETTING, depth=STATED), STICK + ARM)
    found = refused(survey.instead(At("trail-elbow", 9), At("trail-wrist", 9), At(HEAD, 9), to=61))
    assert "already" in found.reason


def test_tempo_is_backswing_over_downswing() -> None:
    """36 pictures back and 12 down are 3 : 1 (near the usual, common practice), each good to half one.

    u = r √((u² + u²)/36² + …) with u = ½/√3: first order by hand, the top shared by both parts.
    """
    found = measured(Survey(SETTING, STICK).tempo(3, 39, 51))
    assert found.value == pytest.approx(3.0)
    u = 0.5 / math.sqrt(3)
    by_hand = math.hypot(u / 12, u * (1 / 12 + 36 / 144), u * 36 / 144)
    assert found.uncertainty == pytest.approx(2 * by_hand, rel=0.02)
    assert found.dimension == "ratio" and found.frames == (3, 39, 51)


def test_events_out_of_order_give_no_tempo() -> None:
    """A top before the start is refused."""
    assert "follow" in refused(Survey(SETTING, STICK).tempo(39, 3, 51)).reason


NAVEL = [
    Observation("navel", 0, 640, 400),
    Observation("navel", 9, 610, 400),
    Observation("navel", 18, 700, 400),
]


def test_a_difference_within_a_clip_shares_the_clip_s_errors() -> None:
    """Two shifts from one setup: the setup's click cancels, so ± is smaller than the sum of squares."""
    survey = Survey(replace(SETTING, depth={"navel": Depth(0.0, 0.02)}), STICK + NAVEL)
    first, second = (measured(survey.shift(At("navel", 0), At("navel", f))) for f in (18, 9))
    found = measured(survey.difference(first, second))
    assert found.value == pytest.approx(90 / PX, rel=1e-6)
    assert found.way == "larger"
    assert found.u < 0.9 * math.hypot(first.u, second.u)
    assert found.u == pytest.approx((first.variable - second.variable).std_dev, rel=0.02)


def test_clips_have_no_common_errors() -> None:
    """Two clips measured alike differ with the sum of squares, and are not distinguishable."""
    one, other = (Survey(replace(SETTING, clip=name), STICK + NAVEL) for name in ("one", "other"))
    first, second = (measured(s.shift(At("navel", 0), At("navel", 9))) for s in (one, other))
    found = measured(one.difference(first, second))
    assert found.value == pytest.approx(0, abs=1e-12)
    assert found.way == "not distinguishable"
    assert found.u == pytest.approx(math.hypot(first.u, second.u), rel=1e-6)
    assert found.clips == ("one", "other")


def test_numbers_of_different_kinds_have_no_difference() -> None:
    """A level and a plumb shift are not compared."""
    survey = Survey(SETTING, STICK + NAVEL)
    level, plumb = (measured(survey.shift(At("navel", 0), At("navel", 9), a)) for a in ("level", "plumb"))
    assert "one kind" in refused(survey.difference(level, plumb)).reason


@given(st.floats(-15, 15), st.floats(0.8, 1.2))
def test_turning_and_growing_the_way_turns_and_grows_its_numbers(turn: float, size: float) -> None:
    """A path and a radius do not mind being turned; both grow with the way."""
    survey = Survey(SETTING, STICK + round_about(6))
    spun = []
    for s in round_about(6):
        z = complex(s.x - 640, s.y - 360) * size * complex(math.cos(turn), math.sin(turn))
        spun.append(replace(s, x=640 + z.real, y=360 + z.imag))
    turned = Survey(SETTING, STICK + spun)
    for ask in (lambda v: v.path(HEAD, 0, 29), lambda v: v.circle(HEAD, 0, 29)):
        assert measured(ask(turned)).value == pytest.approx(size * measured(ask(survey)).value, rel=1e-6)
