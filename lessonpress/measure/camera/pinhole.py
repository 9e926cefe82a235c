"""A pinhole camera, row by row of a batch: picture points to room points and back.

Axes: a picture offset (p, q) from the centre is px to the right and px up. Turning the camera clockwise by
its roll turns the picture's contents the other way. Pitch is positive when the camera looks up. The room's
X runs level to the right, Y up, depth from the subject plane toward the camera; the lens is at X = Y = 0 and
depth D.
Source: the pinhole camera of any text on projective geometry (R. Hartley and A. Zisserman, Multiple View
Geometry, 2nd ed. 2004, chapter 6).
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

import numpy as np
from numpy.typing import NDArray

from lessonpress.measure.formulas.arrays import FloatArray, Pair


@dataclass(frozen=True)
class Attitude:
    """How a camera is held and how long its lens is. roll, pitch: rad; focal: px; each of shape (n,)."""

    roll: FloatArray
    pitch: FloatArray
    focal: FloatArray

    @cached_property
    def _turns(self) -> tuple[FloatArray, FloatArray, FloatArray, FloatArray]:
        return np.cos(self.roll), np.sin(self.roll), np.cos(self.pitch), np.sin(self.pitch)

    def levelled(self, p: FloatArray, q: FloatArray) -> Pair:
        """Where a level camera of the same place and focal length would show an offset, px.

        p, q: px right and up of the centre. Returns px right and px up in an upright picture plane that
        faces the subject; a point lies at X = U (D − d)/f and Y = V (D − d)/f.
        """
        cos_r, sin_r, cos_p, sin_p = self._turns
        across, up = p * cos_r + q * sin_r, q * cos_r - p * sin_r
        ahead = cos_p - sin_p * up / self.focal
        return across / ahead, (self.focal * sin_p + cos_p * up) / ahead

    def tilted(self, across: FloatArray, up: FloatArray) -> Pair:
        """The inverse of `levelled`: offsets px right and up in the real picture."""
        cos_r, sin_r, cos_p, sin_p = self._turns
        ahead = cos_p + sin_p * up / self.focal
        right, high = across / ahead, (cos_p * up - self.focal * sin_p) / ahead
        return right * cos_r - high * sin_r, high * cos_r + right * sin_r


@dataclass(frozen=True)
class Pose:
    """A solved camera. distance: m from the lens to the subject plane, level; metres: m per px of the
    levelled picture in the subject plane, f⁻¹ D where nothing better is known. All of shape (n,).
    """

    attitude: Attitude
    distance: FloatArray
    metres: FloatArray

    def placed(self, p: FloatArray, q: FloatArray, depth: FloatArray) -> Pair:
        """Room coordinates X and Y in m of a picture offset whose point lies at `depth` m.

        The ray through the point meets the plane at level distance D − d from the lens, so that offsets from
        the axis shrink by (D − d)/D against the subject plane.
        """
        across, up = self.attitude.levelled(p, q)
        metres = self.metres * (1 - depth / self.distance)
        return metres * across, metres * up

    def where(self, settled: NDArray[np.bool_]) -> Pose:
        """The same camera with nan in the rows that are not settled."""
        if settled.all():
            return self
        a, lost = self.attitude, np.where(settled, 0.0, np.nan)
        return Pose(
            Attitude(a.roll + lost, a.pitch + lost, a.focal + lost), self.distance + lost, self.metres + lost
        )

    def seen(self, x: FloatArray, y: FloatArray, depth: FloatArray) -> Pair:
        """The inverse of `placed`: the picture offset px right and up of a room point."""
        metres = self.metres * (1 - depth / self.distance)
        return self.attitude.tilted(x / metres, y / metres)


def lean(lower: Pair, upper: Pair) -> FloatArray:
    """Angle of a line against the levelled picture's vertical, rad, positive to the right."""
    return np.asarray(np.arctan2(upper[0] - lower[0], upper[1] - lower[1]))
