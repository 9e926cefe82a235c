"""The points of a body as several looks at one picture show them.

A look is the network's answer for one square: a little larger or smaller, turned, or mirrored. Where the
looks agree the network sees something; by how much they differ says more of its error than its own
confidence does.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from lessonpress.footage.pose.person import ROOM
from lessonpress.footage.pose.running import body_network
from lessonpress.footage.pose.square import Picture, Square, reduced

Floats = NDArray[np.float64]

POINTS = 33  # of the body; behind them six more, of which two say where the body is
MIDDLE, EDGE = 33, 34  # the middle of the hips, and a point of the circle around the body
NUMBERS = 5  # of each: x, y, z, and two confidences
# how each look differs from the first square: times its side, radians, mirrored
LOOKS = (
    (1.0, 0.0, False),
    (1.0, 0.0, True),
    (1.15, 0.0, False),
    (0.9, 0.0, True),
    (1.0, 0.15, False),
    (1.0, -0.15, True),
)
# each point's counterpart on the other side of the body
MIRROR = np.array([0, 4, 5, 6, 1, 2, 3, 8, 7, 10, 9, *(at + (1 if at % 2 else -1) for at in range(11, 33))])


@dataclass(frozen=True)
class Looks:
    """points: (looks, 33, 3), x and y in px of the picture, z likewise and away from the camera, from the
    hips.

    presence: (looks,), how sure each is that there is a body, 0 to 1. side: of the square, px.
    """

    points: Floats
    presence: Floats
    side: float


def looks_at(picture: Picture, square: Square) -> Looks:
    """The looks around a body that is somewhere in the square: a first one only moves the square onto it."""
    first, _ = look(picture, square)
    whole = around(first, square)
    small, scale = reduced(picture, whole.side, body_network().side)
    seen = [
        look(small, Square(whole.centre, whole.side * times, turn, mirrored), scale)
        for times, turn, mirrored in LOOKS
    ]
    return Looks(
        np.array([points[:POINTS] for points, _ in seen]), np.array([sure for _, sure in seen]), whole.side
    )


def look(picture: Picture, square: Square, scale: float | None = None) -> tuple[Floats, float]:
    """(points (39, 3), presence) as one square shows them. scale: of a picture already reduced."""
    network = body_network()
    if scale is None:
        picture, scale = reduced(picture, square.side, network.side)
    cut = np.asarray(square.cut(picture, scale, network.side) / 255, dtype=np.float32)
    numbers, presence = network.run(cut, (1, 39 * NUMBERS), (1, 1))
    rows = numbers.reshape(-1, NUMBERS).astype(np.float64)
    points = np.column_stack(
        [square.back(rows[:, :2], network.side), rows[:, 2] * square.side / network.side]
    )
    if square.mirrored:
        points[:POINTS] = points[MIRROR]
    return points, float(presence[0, 0])


def around(points: Floats, square: Square) -> Square:
    """The upright square around the body, from the two points that say where it is."""
    middle = points[MIDDLE, :2]
    side = 2 * ROOM * float(np.linalg.norm(points[EDGE, :2] - middle))
    side = float(np.clip(side, 0.4 * square.side, 2.5 * square.side))
    return Square((float(middle[0]), float(middle[1])), side)
