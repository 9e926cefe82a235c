"""What gives lengths their size: known lengths, wall grids and the standing golfer, each as m per px."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from lessonpress.measure.body.depths import Depths
from lessonpress.measure.camera.pinhole import Attitude
from lessonpress.measure.formulas.arrays import FloatArray, Pair
from lessonpress.measure.inputs.setting import At, Depth, KnownLength, Scale, Setting, Standing, WallGrid
from lessonpress.measure.optics.lens import Optics
from lessonpress.measure.uncertainty.propagation import Values
from lessonpress.measure.uncertainty.quantities import Quantity, limited
from lessonpress.measure.uncertainty.refusal import RefusedError

WALL_EXAMPLE = "a wall 1 m behind a golfer 4 m away makes every length of the body 25 % too long"
UPRIGHT_DEPTH_U = 0.04  # m for each end of a standing golfer, faced; more down the line, feet apart
UPRIGHT_DEPTH_U_ALONG = 0.08
Larger = Callable[[FloatArray, int, Values], FloatArray]


@dataclass(frozen=True)
class ScaleEntry:
    """One scale of the card, made ready: its place in the card's list and its inputs' names.

    larger: what the camera's sway does to the size of things (see `sway`). misfit: how far a grid's corners
    lie from the rectangle they should form, as a fraction of its half diagonal.
    """

    setting: Setting
    optics: Optics
    depths: Depths
    larger: Larger
    index: int
    scale: Scale
    misfit: float = 0.0

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
            frame = min(self.optics.observations.by_mark.get(mark, {0: None}))
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
            return distance - values[wall_distance(self.setting)]
        return np.zeros_like(distance)

    @property
    def _name(self) -> str:
        return f"{self.setting.clip}/scale/{self.index}"

    def _stated(self, depth: Depth) -> Quantity:
        return limited(f"{self._name}/depth", f"depth of {self.words}", depth.toward, depth.within, "m")

    def _upright(self, mark: str) -> Quantity:
        u = UPRIGHT_DEPTH_U if self.setting.goal == "target" else UPRIGHT_DEPTH_U_ALONG
        return Quantity(f"{self._name}/depth/{mark}", f"depth of {mark}, standing", 0.0, u, "m")

    def known(self, part: str, metres: float, values: Values) -> FloatArray:
        """The known length itself, with its limits."""
        if isinstance(self.scale, Standing):
            return values[self.depths.stature]
        name = f"{self._name}/{part}"
        return values[limited(name, f"{part} of {self.words}", metres, self.scale.within, "m")]

    def _fit(self) -> Quantity:
        """The input for what a grid's misfit may do to its size, a factor about 1."""
        return Quantity(f"{self._name}/fit", f"fit of {self.words}", 1.0, self.misfit, "")

    def ready(self, values: Values) -> ReadyScale:
        """Everything of this entry that does not change while the camera is being solved."""
        seen = [self.optics.offset(self.at(mark), values) for mark in self.marks]
        if self.carried_by_distances:
            wall = values[wall_distance(self.setting)]
            return ReadyScale(seen, self._known(values), [], wall)
        zero = np.zeros_like(seen[0][0])
        depths = [self.depth(mark, zero, values) for mark in self.marks]
        frames = [min(self.optics.observations.frames_of(self.at(mark))) for mark in self.marks]

        def swayed(distance: FloatArray) -> list[FloatArray]:
            ends = zip(frames, depths, strict=True)
            return [self.larger(distance - depth, frame, values) for frame, depth in ends]

        return ReadyScale(seen, self._known(values), depths, None, swayed)

    def _known(self, values: Values) -> list[FloatArray]:
        if isinstance(self.scale, WallGrid):
            fit = values[self._fit()] if self.misfit else 1.0
            sides = zip(("width", "height"), self.scale.size, strict=True)
            return [fit * self.known(part, metres, values) for part, metres in sides]
        return [
            self.known("length", self.scale.length if isinstance(self.scale, KnownLength) else 0.0, values)
        ]


@dataclass(frozen=True)
class ReadyScale:
    """A scale with its inputs' values: offsets of its marks, known lengths, depths or the wall's distance.

    swayed: from the camera's distance to what its sway does to the size of things about each mark; the wall
    keeps its size, since it is what the camera's motion was found from.
    """

    seen: list[Pair]
    known: list[FloatArray]
    depths: list[FloatArray]
    wall: FloatArray | None
    swayed: Callable[[FloatArray], list[FloatArray]] | None = None

    def metres(self, attitude: Attitude, distance: FloatArray) -> FloatArray:
        """Metres per px of the levelled picture in the subject plane, shape (n,).

        A length l whose ends lie at depths d shows as px U with l = s |U₂ (1 − d₂/D) − U₁ (1 − d₁/D)|; on the
        wall 1 − d/D is the wall's distance over D.
        """
        ends = self._in_plane(attitude, distance)
        if len(ends) == 4:
            return _of_grid(ends, *self.known)
        (x0, y0), (x1, y1) = ends
        return np.asarray(self.known[0] / np.hypot(x1 - x0, y1 - y0))

    def _in_plane(self, attitude: Attitude, distance: FloatArray) -> list[Pair]:
        """Its marks in px of the levelled picture, each brought to the subject plane's distance."""
        ends = [attitude.levelled(*offset) for offset in self.seen]
        if self.wall is not None:
            factors = [self.wall / distance] * len(ends)
        else:
            larger = self.swayed(distance) if self.swayed else [np.ones_like(distance)] * len(ends)
            factors = [(1 - depth / distance) * sway for depth, sway in zip(self.depths, larger, strict=True)]
        return [(x * factor, y * factor) for (x, y), factor in zip(ends, factors, strict=True)]

    def misfit(self, attitude: Attitude, distance: FloatArray) -> float:
        """Root mean square distance of a grid's seen corners from their rectangle, over its half diagonal."""
        seen = np.array([x[0] + 1j * y[0] for x, y in self._in_plane(attitude, distance)])
        rectangle = _rectangle(*self.known)[:, 0]
        seen = seen - seen.mean()
        laid = np.vdot(rectangle, seen) / np.vdot(rectangle, rectangle) * rectangle
        return float(np.sqrt(np.mean(np.abs(seen - laid) ** 2)) / np.abs(laid).mean())


def _rectangle(width: FloatArray, height: FloatArray) -> NDArray[np.complex128]:
    """Corners of an upright rectangle about its middle, clockwise from top left, shape (4, n)."""
    half_w, half_h = width / 2, height / 2
    right, up = np.stack([-half_w, half_w, half_w, -half_w]), np.stack([half_h, half_h, -half_h, -half_h])
    return np.asarray(right + 1j * up)


def _of_grid(corners: list[Pair], width: FloatArray, height: FloatArray) -> FloatArray:
    """The similarity that best lays a known rectangle on the seen one, least squares over four corners.

    Source: S. Umeyama, IEEE PAMI 13 (1991), equations (40) to (42), in the plane: with both sets about their
    means and as complex numbers z (seen) and w (known), s = Σ|w|² / |Σ w̄ z|.
    """
    seen = np.stack([x + 1j * y for x, y in corners])
    rectangle = _rectangle(width, height)
    laid = (np.conj(rectangle) * (seen - seen.mean(axis=0))).sum(axis=0)
    return np.asarray((np.abs(rectangle) ** 2).sum(axis=0) / np.abs(laid))


def wall_distance(setting: Setting) -> Quantity:
    """The input for the level distance from the lens to the wall."""
    wall = setting.camera.wall
    if wall is None:
        raise RefusedError("the distance to the wall is not known", "add wall under camera on the card")
    within = setting.camera.wall_within
    return limited(
        f"{setting.clip}/wall",
        "distance from the lens to the wall",
        wall,
        0.05 * wall if within is None else within,
        "m",
    )
