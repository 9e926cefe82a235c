"""The truth of each measure kind, on points whose measures can be found without a program."""

from __future__ import annotations

import numpy as np
import pytest

from tests.studio.camera import Camera, Sway
from tests.studio.swingers import DUNE
from tests.studio.truth import HAND_MASS, HEAD_MASS, SEGMENTS, TRUNK_MASS, Truth, truth_of

FACING = Camera((0.0, 1.0, 4.0))


def truth(hand: str = "right", yaw: float = 0.0, **places: tuple[float, float, float]) -> Truth:
    camera = Camera((0.0, 1.0, 4.0), yaw=yaw)
    return Truth(lambda t: {name: np.array(place) for name, place in places.items()}, camera, "face-on", hand)


@pytest.mark.parametrize("hand", ["right", "left"])
def test_a_lean_toward_the_target_is_positive_for_either_hand(hand: str) -> None:
    leaning = truth(hand, a=(0, 1, 0), b=(0.1, 1 + 0.1 * np.sqrt(3), 0.3))
    assert leaning.tilt("a", "b", 0) == pytest.approx(30)


def test_depth_counts_for_nothing_in_a_distance_seen_square_on() -> None:
    assert truth(a=(0, 1, -0.5), b=(0.3, 1.4, 0.7)).distance("a", "b", 0) == pytest.approx(0.5)


def test_a_camera_turned_aside_sees_a_level_length_by_the_cosine() -> None:
    assert truth(yaw=20, a=(0, 1, 0), b=(1, 1, 0)).distance("a", "b", 0, "level") == pytest.approx(
        np.cos(np.radians(20))
    )


def test_an_angle_is_that_of_the_projection() -> None:
    assert truth(a=(0, 2, 0.4), v=(0, 1, 0), b=(1, 1, -0.9)).angle("a", "v", "b", 0) == pytest.approx(90)


@pytest.mark.parametrize(("hand", "clock"), [("right", 90.0), ("left", 270.0)])
def test_a_clock_is_read_as_filmed(hand: str, clock: float) -> None:
    assert truth(hand, a=(0, 1, 0), b=(0.5, 1, 0)).clock("a", "b", 0) == pytest.approx(clock)


def test_a_point_moved_instead_goes_along_chord_or_arc() -> None:
    """2 L sin(Δ/2) and L Δ (Euclid)."""
    turned = truth(v=(0, 1, 0), b=(0, 1.5, 0), a=(1, 1, 0))
    assert turned.instead("v", "b", "a", 60, 0) == pytest.approx(2 * 0.5 * np.sin(np.radians(15)))
    assert turned.instead("v", "b", "a", 60, 0, "arc") == pytest.approx(0.5 * np.radians(30))


def test_a_point_on_a_circle_has_its_speed_path_and_circle() -> None:
    radius, rate = 0.6, 7.0

    def where(t: float) -> dict[str, np.ndarray]:
        return {"m": np.array([radius * np.cos(rate * t), 1 + radius * np.sin(rate * t), 0.2])}

    moving = Truth(where, FACING)
    assert moving.speed("m", 0.1) == pytest.approx(radius * rate, rel=1e-6)
    assert moving.speed("m", 0.1, side=-1) == pytest.approx(radius * rate, rel=1e-3)
    assert moving.path("m", np.linspace(0, 0.2, 2000)) == pytest.approx(radius * rate * 0.2, rel=1e-5)
    centre, r = moving.circle("m", np.linspace(0, 0.2, 12))
    assert (*centre, r) == pytest.approx((0, 1, radius), abs=1e-6)


def test_a_turn_is_about_the_vertical() -> None:
    def where(t: float) -> dict[str, np.ndarray]:
        return {"a": np.zeros(3), "b": np.array([np.cos(t), 0.3, -np.sin(t)])}

    assert Truth(where, FACING).turn("a", "b", 0.0, np.radians(40)) == pytest.approx(40)


def test_the_segments_make_one_body() -> None:
    """Winter's table after Dempster: the fractions of two sides, trunk and head add up to the whole."""
    sides = 2 * (sum(mass for _, _, mass, _ in SEGMENTS.values()) + HAND_MASS)
    assert sides + TRUNK_MASS + HEAD_MASS == pytest.approx(1)


def test_weight_goes_to_the_trail_side_and_then_to_the_lead_foot() -> None:
    swing = truth_of(DUNE, FACING)
    setup, top, impact, finish = (swing.balance(t) for t in DUNE.events.values())
    assert top < setup < impact < finish
    assert 45 < setup < 55
    assert 90 < finish < 105


def test_truth_does_not_depend_on_a_hand_that_shakes() -> None:
    shaken = Camera((0.0, 1.0, 4.0), sway=Sway())
    assert truth_of(DUNE, shaken).tilt("navel", "c7", 1.1) == truth_of(DUNE, FACING).tilt("navel", "c7", 1.1)
