"""A club as a stick: how it goes on is held against one that turns evenly in space, by plain geometry."""

from __future__ import annotations

import numpy as np
import pytest
from numpy.typing import NDArray

from lessonpress.footage.tracking.club.stick import (
    HANDS,
    PACE,
    STEADY,
    TURNING,
    WAY,
    Sights,
    Stick,
    bounded,
    clicked,
    gone_on,
    joined,
    misses,
    seen_as,
    turned_back,
)

Floats = NDArray[np.float64]
REACH, RATE = 250.0, 0.15  # px, and radians a step
HANDS_AT, GOING = np.array([300.0, 200.0]), np.array([2.0, -1.0])


def turned(step: float, tilt: float, start: float) -> tuple[Floats, Floats]:
    """Way and its pace, in the picture, of a stick that turns in a plane tilted against the picture by so
    many radians, after so many steps.
    """
    angle = start + RATE * step
    squeezed = np.array([1.0, np.cos(tilt)])
    way = REACH * squeezed * [np.cos(angle), np.sin(angle)]
    return way, RATE * REACH * squeezed * [-np.sin(angle), np.cos(angle)]


def at(step: float, tilt: float, start: float) -> Stick:
    way, turning = turned(step, tilt, start)
    return Stick(np.concatenate([HANDS_AT + step * GOING, way, GOING, turning]), np.eye(8), REACH)


@pytest.mark.parametrize(("tilt", "start"), [(0.9, 0.7), (1.2, 0.4), (1.4, 1.0)])
def test_it_goes_on_as_a_stick_that_turns_in_a_tilted_plane(tilt: float, start: float) -> None:
    due, true = gone_on(at(0, tilt, start), 3), at(3, tilt, start)
    for part in (HANDS, WAY, PACE, TURNING):
        assert due.mean[part] == pytest.approx(true.mean[part], abs=1e-6)


def test_it_is_expected_again_after_it_pointed_at_the_camera() -> None:
    """Seen from its edge the plane is a line: the head comes up to the hands and goes on beyond."""
    tilt, start, seen_to, then = np.pi / 2 - 0.03, 0.6, 4, 9
    stick = clicked(HANDS_AT, HANDS_AT + turned(0, tilt, start)[0], REACH)
    for step in range(1, seen_to + 1):
        way = turned(step, tilt, start)[0]
        stick = seen_as(gone_on(stick, 1), sights(HANDS_AT + step * GOING, way), 0)
    due = gone_on(stick, then - seen_to)
    true = HANDS_AT + then * GOING + turned(then, tilt, start)[0]
    spread = np.sqrt(np.diag(due.cov)[HANDS] + np.diag(due.cov)[WAY])
    assert turned(seen_to, tilt, start)[0][0] > 0 > turned(then, tilt, start)[0][0]
    assert (np.abs(due.hands + due.way - true) < 2 * spread).all()


def sights(hands: Floats, way: Floats) -> Sights:
    one = np.ones(1)
    return Sights((hands + way)[None], (way / np.linalg.norm(way))[None], one, 3 * one, 0.01 * one, 0 * one)


def test_what_is_seen_elsewhere_is_off_by_many_deviations() -> None:
    stick = at(0, 0.9, 0.7)
    there, aside = sights(stick.hands, stick.way), sights(stick.hands + np.array([40.0, 0.0]), stick.way)
    assert misses(stick, there)[2] == pytest.approx(0)
    assert misses(stick, aside)[2] > 100


def test_a_length_is_brought_into_its_bounds() -> None:
    stick = clicked(HANDS_AT, HANDS_AT + np.array([100.0, 0.0]), REACH)
    wide = Stick(stick.mean, 900 * np.eye(8), REACH)
    along = np.array([1.0, 0.0])
    assert bounded(wide, along, 50, 150) == (wide, 0.0)
    longer, odd = bounded(wide, along, 140, 500)
    assert 125 < longer.way[0] < 140 and odd > 1


def test_what_is_known_from_before_and_after_is_known_better() -> None:
    before, after = at(0, 0.9, 0.7), turned_back(at(0, 0.9, 0.7))
    both = joined(before, turned_back(after))
    assert both.mean == pytest.approx(before.mean)
    assert both.cov == pytest.approx(np.eye(8) / 2)


@pytest.mark.parametrize("parts", [1, 2, 4])
def test_what_a_pace_changes_by_does_not_hang_on_how_many_pictures_are_taken(parts: int) -> None:
    """Of a white acceleration of intensity q the pace has q T after a time T, in however many parts that is
    gone; constant over a part it has the variance q / T there (Bar-Shalom, Li and Kirubarajan 2001, sections
    6.2 and 6.3). That of the hands, at rest.
    """
    known = Stick(np.concatenate([HANDS_AT, [REACH, 0.0], np.zeros(4)]), np.zeros((8, 8)), REACH)
    for _ in range(parts):
        known = gone_on(known, 1 / parts)
    assert known.mean[PACE] == pytest.approx(0)
    assert np.diag(known.cov)[PACE] == pytest.approx(STEADY[0] ** 2)
    place, pace = np.diag(known.cov)[HANDS][0], np.diag(known.cov)[PACE][0]
    assert place == pytest.approx(pace * (1 / 3 - 1 / (12 * parts**2)))
