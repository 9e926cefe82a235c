"""What gives lengths their size: known lengths, wall grids and the standing golfer, each as m per px."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from lessonpress.measure.camera import Attitude
from lessonpress.measure.depths import Depths
from lessonpress.measure.points import Points
from lessonpress.measure.propagation import Values
from lessonpress.measure.quantities import FloatArray, Quantities, Quantity, limited
from lessonpress.measure.refusal import RefusedError
from lessonpress.measure.setting import At, Depth, KnownLength, Scale, Setting, Standing, WallGrid

WALL_EXAMPLE = "a wall 1 m behind a golfer 4 m away makes every length of the body 25 % too long"
UPRIGHT_DEPTH_U = 0.04  # m for each end of a standing golfer, faced; more down the line, feet apart
UPRIGHT_DEPTH_U_ALONG = 0.08


@dataclass(frozen=True)
class ScaleEntry:
    """One scale of the card, made ready: its place in the card's list and its inputs' names."""

    setting: Setting
    points: Points
    depths: Depths
    quantities: Quantities
    index: int
    scale: Scale

    @property
    def words(self) -> str:
        """How warnings name it: "the length between stick-top and stick-foot"."""
        if isinstance(self.scale, WallGrid):
            return "the grid " + ", ".join(self.scale.corners)
        if isinstance(self.scale, Standing):
            return f"the stature from {self.scale.between[0]} to {self.scale.between[1]}"
        return f"the length between {self.scale.between[0]} and {self.scale.between[1]}"

    @property
    def marks(self) -> tuple[str, ...]:
        """The marks it rests on."""
        return self.scale.corners if isinstance(self.scale, WallGrid) else self.scale.between

    def at(self, mark: str) -> At:
        """The mark where it is placed: at the entry's frame, else at its first placing."""
        frame = self.scale.frame
        if frame is None:
            frame = min(self.points.by_mark.get(mark, {0: None}))
        return At(mark, frame)

    @property
    def carried_by_distances(self) -> bool:
        """Whether it lies on the wall, so that only the camera's distances bring it to the golfer."""
        return (
            not isinstance(self.scale, Standing) and self.scale.depth is None and self.scale.plane == "wall"
        )

    def refuse_unless_carried(self) -> None:
        """Refuses a scale on the wall without the camera's distances, saying how wrong it could be."""
        camera = self.setting.camera
        if self.carried_by_distances and (camera.distance is None or camera.wall is None):
            raise RefusedError(
                f"{self.words} lies on the wall and the camera's distances are not known; {WALL_EXAMPLE}",
                "add distance and wall under camera on the card, or a known length in the golfer's plane",
            )

    def refuse_unless_stature(self) -> None:
        """Refuses a scale by stature when the card does not say how tall the golfer is."""
        if isinstance(self.scale, Standing) and self.setting.stature is None:
            raise RefusedError(
                f"{self.words} needs the golfer's stature, which the card does not say",
                "add stature to the card",
            )

    def depth(self, mark: str, distance: FloatArray, values: Values) -> FloatArray:
        """Depth of one of its marks toward the camera, m."""
        if isinstance(self.scale, Standing):
            return values[self._upright(mark)]
        if isinstance(self.scale.depth, Depth):
            return values[self._stated(self.scale.depth)]
        if self.carried_by_distances:
            return distance - values[wall_distance(self.setting, self.quantities)]
        return np.zeros_like(distance)

    def _stated(self, depth: Depth) -> str:
        return self.quantities.add(
            limited(
                f"{self.setting.clip}/scale/{self.index}/depth",
                f"depth of {self.words}",
                depth.toward,
                depth.within,
                "m",
            )
        )

    def _upright(self, mark: str) -> str:
        u = UPRIGHT_DEPTH_U if self.setting.goal == "target" else UPRIGHT_DEPTH_U_ALONG
        return self.quantities.add(
            Quantity(
                f"{self.setting.clip}/scale/{self.index}/depth/{mark}",
                f"depth of {mark}, standing",
                0.0,
                u,
                "m",
            )
        )

    def known(self, part: str, metres: float, values: Values) -> FloatArray:
        """The known length itself, with its limits."""
        if isinstance(self.scale, Standing):
            return values[self.depths.stature]
        name = f"{self.setting.clip}/scale/{self.index}/{part}"
        return values[
            self.quantities.add(limited(name, f"{part} of {self.words}", metres, self.scale.within, "m"))
        ]

    def metres(self, attitude: Attitude, distance: FloatArray, values: Values) -> FloatArray:
        """Metres per px of the levelled picture in the subject plane, shape (n,).

        A length l whose ends lie at depths d shows as px U with l = s |U₂ (1 − d₂/D) − U₁ (1 − d₁/D)|.
        """
        ends = {}
        for mark in self.marks:
            across, up = attitude.levelled(*self.points.offset(self.at(mark), values))
            nearer = 1 - self.depth(mark, distance, values) / distance
            ends[mark] = across * nearer, up * nearer
        if isinstance(self.scale, WallGrid):
            return self._of_grid([ends[mark] for mark in self.scale.corners], values)
        first, second = (ends[mark] for mark in self.marks)
        length = self.scale.length if isinstance(self.scale, KnownLength) else 0.0
        return self.known("length", length, values) / np.hypot(second[0] - first[0], second[1] - first[1])

    def _of_grid(self, corners: list[tuple[FloatArray, FloatArray]], values: Values) -> FloatArray:
        """The similarity that best lays the known rectangle on the seen one, least squares over four corners.

        Source: S. Umeyama, IEEE PAMI 13 (1991), equations (40) to (42), in the plane: with both sets about
        their means and as complex numbers z (seen) and w (known), s = Σ|w|² / |Σ w̄ z|.
        """
        assert isinstance(self.scale, WallGrid)
        half_w = self.known("width", self.scale.size[0], values) / 2
        half_h = self.known("height", self.scale.size[1], values) / 2
        seen = [x + 1j * y for x, y in corners]
        middle = sum(seen) / 4
        rectangle = [-half_w + 1j * half_h, half_w + 1j * half_h, half_w - 1j * half_h, -half_w - 1j * half_h]
        laid = sum(np.conj(w) * (z - middle) for w, z in zip(rectangle, seen, strict=True))
        return np.asarray(4 * (half_w**2 + half_h**2) / np.abs(laid))


def wall_distance(setting: Setting, quantities: Quantities) -> str:
    """The input for the level distance from the lens to the wall."""
    wall = setting.camera.wall
    if wall is None:
        raise RefusedError("the distance to the wall is not known", "add wall under camera on the card")
    within = setting.camera.wall_within
    return quantities.add(
        limited(
            f"{setting.clip}/wall",
            "distance from the lens to the wall",
            wall,
            0.05 * wall if within is None else within,
            "m",
        )
    )
