"""The jointed figure dressed: one closed mesh for each garment, of rounded pieces that flow together.

A garment is a set of pieces (tapered rods and ellipsoids) given by their distance functions. The smooth
minimum of those distances is sampled on a grid and its zero surface taken by marching cubes. Swing
coordinates, metres; sizes below are those of a figure 1.80 m tall, scaled by stature, widths by girth too.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from skimage.measure import marching_cubes

from tests.studio.body import Pose, Vec, square_to, unit, vec

Grid = NDArray[np.float32]
Distance = Callable[[Grid], Grid]
DRAWN_AT = 1.80


@dataclass(frozen=True)
class Piece:
    """A rounded piece: its signed distance, and the box that holds it."""

    distance: Distance
    low: Vec
    high: Vec


@dataclass(frozen=True)
class Mesh:
    points: NDArray[np.float64]  # (n, 3) m
    triangles: NDArray[np.int64]  # (m, 3), outside seen counterclockwise


def rod(a: Vec, b: Vec, ra: float, rb: float) -> Piece:
    """A rod with round ends whose radius runs from ra to rb."""
    along = b - a
    square = float(along @ along)

    def distance(points: Grid) -> Grid:
        share = np.clip(((points - a) @ along) / square, 0, 1)
        gap = points - a - share[..., None] * along
        return np.asarray(np.sqrt((gap * gap).sum(-1)) - (ra + (rb - ra) * share), np.float32)

    wide = max(ra, rb)
    return Piece(distance, np.minimum(a, b) - wide, np.maximum(a, b) + wide)


def egg(middle: Vec, radii: tuple[float, float, float], axes: Vec) -> Piece:
    """An ellipsoid; rows of axes are its own x, y, z."""
    r = np.array(radii)

    def distance(points: Grid) -> Grid:
        own = (points - middle) @ axes.T
        near = np.linalg.norm(own / r, axis=-1)
        steep = np.maximum(np.linalg.norm(own / (r * r), axis=-1), 1e-6)
        return np.asarray(near * (near - 1) / steep, np.float32)

    return Piece(distance, middle - r.max(), middle + r.max())


def cut(piece: Piece, at: Vec, out: Vec) -> Piece:
    """The piece as far as a plane: what lies beyond `at` in the direction `out` is taken off."""

    def distance(points: Grid) -> Grid:
        return np.asarray(np.maximum(piece.distance(points), (points - at) @ unit(out)), np.float32)

    return Piece(distance, piece.low, piece.high)


def skin(pieces: list[Piece], blend: float, step: float) -> Mesh:
    """The surface round some pieces; blend: how far apart, in m, they begin to flow together."""
    low = np.min([piece.low for piece in pieces], axis=0) - blend - 2 * step
    high = np.max([piece.high for piece in pieces], axis=0) + blend + 2 * step
    counts = np.ceil((high - low) / step).astype(int) + 1
    axes = [(low[i] + step * np.arange(counts[i])).astype(np.float32) for i in range(3)]
    field = np.full(tuple(counts), 1.0, np.float32)
    for piece in pieces:
        # only where the piece can matter; elsewhere the field keeps what it has
        near = [
            np.flatnonzero((axis >= piece.low[i] - blend - step) & (axis <= piece.high[i] + blend + step))
            for i, axis in enumerate(axes)
        ]
        window = tuple(slice(n[0], n[-1] + 1) for n in near)
        points = np.stack(np.meshgrid(*[axes[i][window[i]] for i in range(3)], indexing="ij"), -1)
        field[window] = _joined(field[window], piece.distance(points), blend)
    points, triangles, _, _ = marching_cubes(
        field, 0.0, spacing=(step, step, step), gradient_direction="descent"
    )
    return Mesh(points + low, triangles.astype(np.int64))


def _joined(a: Grid, b: Grid, blend: float) -> Grid:
    """Smooth minimum of two distances."""
    close = np.maximum(blend - np.abs(a - b), 0) / blend
    return np.asarray(np.minimum(a, b) - close**3 * blend / 6, np.float32)


def _axes(x: Vec, y: Vec) -> Vec:
    """Rows x, y, z of a frame with y kept and x made square to it."""
    y = unit(y)
    x = square_to(x, y)
    return np.stack([x, y, np.cross(x, y)])


@dataclass(frozen=True)
class Tailor:
    """Cuts the garments for one pose."""

    pose: Pose
    girth: float
    step: float = 0.009

    def __getattr__(self, name: str) -> Vec:
        """Joints by name, lead_hip for lead-hip."""
        try:
            return self.pose.joints[name.replace("_", "-")]
        except KeyError:
            raise AttributeError(name) from None

    @property
    def s(self) -> float:
        return self.pose.stature / DRAWN_AT

    @property
    def w(self) -> float:
        return self.s * self.girth

    @property
    def nape(self) -> Vec:
        """The middle of the neck at the height of C7, which is the bump on the skin behind it."""
        return self.c7 + 0.066 * self.w * self.pose.chest_front

    def garments(self) -> dict[str, Mesh]:
        fine = min(self.step, 0.006)
        cut = {
            "shirt": (self.shirt(), 0.05, self.step),
            "trousers": (self.trousers(), 0.045, self.step),
            "lead-shoe": (self.shoe("lead", self.pose.lead_toe_way), 0.03, fine),
            "trail-shoe": (self.shoe("trail", self.pose.trail_toe_way), 0.03, fine),
            "arms": (self.arms(), 0.03, self.step),
            "head": (self.head(), 0.026, fine),
            "hair": (self.hair(), 0.012, fine),
            "cap": (self.cap(), 0.02, fine),
            "brim": (self.brim(), 0.01, 0.5 * fine),
            "glove": (self.lead_hand_glove(), 0.02, fine),
            "hand": (self.trail_hand_skin(), 0.02, fine),
        }
        return {name: skin(pieces, blend * self.s, step) for name, (pieces, blend, step) in cut.items()}

    def shirt(self) -> list[Piece]:
        pose, w = self.pose, self.w
        u, ls, fs = pose.spine, pose.chest_lead, pose.chest_front
        long = self.c7 - self.pelvis
        waist_lead = unit(0.5 * pose.pelvis_lead + 0.5 * ls)
        chest, ribs, waist = (self.pelvis + long * part for part in (0.74, 0.52, 0.30))
        parts = [
            egg(chest + 0.015 * fs, (0.165 * w, 0.152 * self.s, 0.108 * w), _axes(ls, u)),
            egg(ribs + 0.012 * fs, (0.148 * w, 0.165 * w, 0.104 * w), _axes(waist_lead, u)),
            egg(waist + 0.004 * fs, (0.152 * w, 0.135 * w, 0.114 * w), _axes(pose.pelvis_lead, u)),
            rod(self.nape - 0.050 * u + 0.010 * fs, self.nape + 0.014 * u + 0.006 * fs, 0.072 * w, 0.058 * w),
        ]
        for side, sign in (("lead", 1.0), ("trail", -1.0)):
            shoulder = self.pose.joints[f"{side}-shoulder"]
            elbow = self.pose.joints[f"{side}-elbow"]
            arm = unit(elbow - shoulder)
            hem = shoulder + (elbow - shoulder) * 0.60
            # shoulders slope: the cloth lies lower on the joint than C7, and falls to it from the neck
            top = shoulder - (0.014 * u + sign * 0.012 * ls) * w
            parts.append(
                rod(self.nape + (0.010 * fs - 0.025 * u + sign * 0.030 * ls) * w, top, 0.054 * w, 0.040 * w)
            )
            parts.append(
                rod(chest + sign * 0.085 * ls * w + 0.01 * fs, top - 0.025 * u, 0.090 * w, 0.056 * w)
            )
            parts.append(rod(top, shoulder + 0.075 * arm * w, 0.044 * w, 0.051 * w))
            sleeve = rod(shoulder + 0.05 * arm * w, hem + 0.05 * arm, 0.049 * w, 0.062 * w)
            parts.append(cut(sleeve, hem, arm))
        return parts

    def trousers(self) -> list[Piece]:
        pose, w = self.pose, self.w
        up = unit(np.cross(pose.pelvis_front, pose.pelvis_lead))
        up = up if up[1] > 0 else -up
        axes = _axes(pose.pelvis_lead, up)
        parts = [
            egg(self.pelvis + 0.045 * up, (0.152 * w, 0.100 * w, 0.112 * w), axes),
            egg(self.pelvis - 0.045 * pose.pelvis_front - 0.02 * up, (0.140 * w, 0.095 * w, 0.088 * w), axes),
        ]
        for side, sign in (("lead", 1.0), ("trail", -1.0)):
            hip, knee, ankle = (self.pose.joints[f"{side}-{part}"] for part in ("hip", "knee", "ankle"))
            root = hip - sign * 0.055 * pose.pelvis_lead * w
            parts.append(rod(root, knee, 0.096 * w, 0.066 * w))
            parts.append(rod(knee, ankle + vec(0, -0.012, 0), 0.066 * w, 0.054 * w))
        return parts

    def shoe(self, side: str, way: Vec) -> list[Piece]:
        s = self.s
        heel, toe, ankle = (self.pose.joints[f"{side}-{part}"] for part in ("heel", "toe", "ankle"))
        along = unit(toe - heel)
        side_way = unit(np.cross(vec(0, 1, 0), way))
        sole_up = unit(np.cross(along, side_way))
        sole_up = sole_up if sole_up[1] > 0 else -sole_up
        lift = 0.026 * s
        return [
            rod(
                heel + along * 0.036 * s + sole_up * lift,
                toe - along * 0.075 * s + sole_up * lift,
                0.038 * s,
                0.041 * s,
            ),
            rod(
                toe - along * 0.10 * s + sole_up * 0.022 * s,
                toe - along * 0.035 * s + sole_up * 0.014 * s,
                0.043 * s,
                0.032 * s,
            ),
            rod(ankle + vec(0, 0.008, 0), heel + along * 0.05 * s + sole_up * 0.03 * s, 0.046 * s, 0.044 * s),
        ]

    def arms(self) -> list[Piece]:
        w, parts = self.w, []
        for side in ("lead", "trail"):
            shoulder, elbow, wrist = (
                self.pose.joints[f"{side}-{part}"] for part in ("shoulder", "elbow", "wrist")
            )
            parts.append(rod(shoulder + (elbow - shoulder) * 0.4, elbow, 0.045 * w, 0.041 * w))
            parts.append(rod(elbow, elbow + (wrist - elbow) * 0.4, 0.042 * w, 0.045 * w))
            parts.append(rod(elbow + (wrist - elbow) * 0.3, wrist, 0.044 * w, 0.028 * w))
        return parts

    @property
    def face_axes(self) -> Vec:
        pose = self.pose
        return np.stack([np.cross(pose.head_up, pose.face), pose.head_up, pose.face])

    @property
    def skull(self) -> Vec:
        return self.pose.joints["head"]

    def head(self) -> list[Piece]:
        s, axes = self.s, self.face_axes
        x, y, z = axes
        c = self.skull
        return [
            egg(c + (0.012 * y - 0.008 * z) * s, (0.074 * s, 0.092 * s, 0.094 * s), axes),
            egg(c + (-0.055 * y + 0.028 * z) * s, (0.056 * s, 0.062 * s, 0.066 * s), axes),
            rod(c + (-0.004 * y + 0.090 * z) * s, c + (-0.032 * y + 0.106 * z) * s, 0.011 * s, 0.014 * s),
            egg(c + (-0.058 * y + 0.088 * z) * s, (0.024 * s, 0.012 * s, 0.014 * s), axes),
            egg(c + (-0.012 * y + 0.074 * x - 0.012 * z) * s, (0.014 * s, 0.032 * s, 0.022 * s), axes),
            egg(c + (-0.012 * y - 0.074 * x - 0.012 * z) * s, (0.014 * s, 0.032 * s, 0.022 * s), axes),
            rod(
                self.nape - 0.03 * self.pose.spine * s,
                c + (-0.06 * y - 0.002 * z) * s,
                0.054 * self.w,
                0.053 * self.w,
            ),
        ]

    def hair(self) -> list[Piece]:
        s, axes = self.s, self.face_axes
        return [
            egg(
                self.skull + (0.002 * axes[1] - 0.026 * axes[2]) * s, (0.079 * s, 0.084 * s, 0.084 * s), axes
            ),
            *(self._eye(side) for side in (-1, 1)),
        ]

    def _eye(self, side: int) -> Piece:
        s, axes = self.s, self.face_axes
        x, y, z = axes
        return egg(
            self.skull + (side * 0.031 * x + 0.002 * y + 0.076 * z) * s,
            (0.013 * s, 0.008 * s, 0.012 * s),
            axes,
        )

    def cap(self) -> list[Piece]:
        s, axes = self.s, self.face_axes
        _, y, z = axes
        return [
            egg(self.skull + (0.052 * y - 0.012 * z) * s, (0.081 * s, 0.060 * s, 0.098 * s), axes),
            egg(self.skull + (0.112 * y - 0.012 * z) * s, (0.010 * s, 0.008 * s, 0.010 * s), axes),
        ]

    def brim(self) -> list[Piece]:
        s, axes = self.s, self.face_axes
        _, y, z = axes
        middle = self.skull + (0.046 * y + 0.086 * z) * s
        return [egg(middle, (0.066 * s, 0.010 * s, 0.066 * s), axes)]

    def _fist(self, middle: Vec, wrist: Vec) -> list[Piece]:
        """A hand closed round the grip: knuckles along the shaft and a thumb down it."""
        s, club = self.s, self.pose.club
        out = square_to(middle - wrist, club)
        side = np.cross(club, out)
        fingers = []
        for place in (-0.030, -0.010, 0.010, 0.030):
            centre = middle + club * place * s
            fingers.append(
                rod(
                    centre + (0.020 * out + 0.016 * side) * s,
                    centre + (0.014 * out - 0.020 * side) * s,
                    0.0125 * s,
                    0.0125 * s,
                )
            )
        palm = egg(middle - 0.002 * out * s, (0.030 * s, 0.046 * s, 0.032 * s), _axes(out, club))
        thumb = rod(
            middle + (0.022 * side + 0.005 * out) * s,
            middle + (0.018 * side + 0.012 * out) * s + 0.058 * club * s,
            0.013 * s,
            0.011 * s,
        )
        return [palm, thumb, rod(wrist, middle - 0.010 * out * s, 0.027 * s, 0.030 * s), *fingers]

    def lead_hand_glove(self) -> list[Piece]:
        wrist, elbow = self.lead_wrist, self.lead_elbow
        cuff = rod(wrist, wrist + (elbow - wrist) * 0.10, 0.032 * self.w, 0.033 * self.w)
        return [*self._fist(self.lead_hand, wrist), cuff]

    def trail_hand_skin(self) -> list[Piece]:
        return self._fist(self.trail_hand, self.trail_wrist)
