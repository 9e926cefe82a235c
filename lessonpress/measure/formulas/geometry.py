"""What is measured, as pure functions of room points: no uncertainty, no words, no camera.

A point is a pair (x, y) of arrays of equal shape, x level and positive toward the goal (target or ball), y
up, both in m unless a docstring says otherwise. Angles are returned in degrees.
"""

from __future__ import annotations

import numpy as np

from lessonpress.measure.formulas.arrays import FloatArray, Pair


def mean(points: list[Pair]) -> Pair:
    """The middle of several points: the mean of each coordinate."""
    return (
        np.asarray(sum(point[0] for point in points) / len(points)),
        np.asarray(sum(point[1] for point in points) / len(points)),
    )


def apart(start: Pair, end: Pair) -> Pair:
    """The vector from start to end."""
    return end[0] - start[0], end[1] - start[1]


def tilt(lower: Pair, upper: Pair) -> FloatArray:
    """Lean of the line from lower to upper against the vertical, deg in (-180, 180].

    Positive when upper leans toward the goal. θ = atan2(Δx, Δy).
    """
    x, y = apart(lower, upper)
    return np.asarray(np.degrees(np.arctan2(x, y)))


def signed_angle(first: Pair, vertex: Pair, second: Pair) -> FloatArray:
    """Turn from the arm vertex→first to the arm vertex→second, deg in (-180, 180], its size the inside angle.

    Positive when the turn runs from the vertical toward the goal. α = atan2(a × b, a · b).
    """
    ax, ay = apart(vertex, first)
    bx, by = apart(vertex, second)
    return np.asarray(np.degrees(np.arctan2(ay * bx - ax * by, ax * bx + ay * by)))


def straight(start: Pair, end: Pair) -> FloatArray:
    """Length of the segment, never negative: √(Δx² + Δy²)."""
    return np.asarray(np.hypot(*apart(start, end)))


def level(start: Pair, end: Pair) -> FloatArray:
    """How far end lies from start along the level axis, positive toward the goal."""
    return apart(start, end)[0]


def plumb(start: Pair, end: Pair) -> FloatArray:
    """How far end lies above start, negative below."""
    return apart(start, end)[1]


def clock(start: Pair, end: Pair) -> FloatArray:
    """Direction start→end on a clock face, deg clockwise from 12 in [0, 360).

    Points here have x to the right of the picture, whatever side the target is on. 30° are one hour.
    """
    x, y = apart(start, end)
    return np.asarray(np.degrees(np.arctan2(x, y)) % 360)
