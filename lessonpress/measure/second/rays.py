"""Where the rays of two cameras meet, in the level plane.

Face-on a ray crosses the subject plane at level place a, and a point at depth q toward the camera lies at
p = a (1 − q/D). Down the line it crosses that camera's subject plane at b, and a point at depth r lies at
g = b (1 − r/E). D and E are the cameras' level distances. The two level axes are at right angles but for a
small turn ψ, and their origins lie apart by (k, l):

    g = q cos ψ − p sin ψ + k,    r = −p cos ψ − q sin ψ + l,

since toward the ball is toward the face-on camera, and toward the camera down the line is away from the
target. Put together they are linear in q. Source: two lines in a plane, any text on coordinate geometry.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from lessonpress.measure.formulas.arrays import FloatArray, Pair


@dataclass(frozen=True)
class Planes:
    """How two subject planes lie to each other. turn: ψ, rad; across, along: k and l, m; of shape (n,)."""

    turn: FloatArray
    across: FloatArray
    along: FloatArray


def meeting(a: FloatArray, b: FloatArray, d: FloatArray, e: FloatArray, planes: Planes) -> Pair:
    """Depths q toward the face-on camera and r toward the one down the line, m.

    a, b: level places in the subject planes, face-on toward the target and down the line toward the ball.
    d, e: the cameras' distances.
    """
    cos, sin = np.cos(planes.turn), np.sin(planes.turn)
    known = b * (1 - planes.along / e) - planes.across + sin * a + (b / e) * cos * a
    q = known / (cos + sin * a / d + (b / e) * (cos * a / d - sin))
    return q, np.asarray(planes.along - cos * a * (1 - q / d) - sin * q)


def apart(faced: Pair, along: Pair, d: FloatArray, e: FloatArray, turn: FloatArray) -> Planes:
    """How the planes lie, by one mark. faced, along: its level place in each plane and its depth, m."""
    (a, q), (b, r) = faced, along
    p, g = a * (1 - q / d), b * (1 - r / e)
    cos, sin = np.cos(turn), np.sin(turn)
    return Planes(turn, g - q * cos + p * sin, r + p * cos + q * sin)
