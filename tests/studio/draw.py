"""The quick renderer: a figure of flat rounded pieces in the studio's room, some 20 ms a picture.

It is for tests that need a film in seconds. Every edge is drawn to a sixteenth of a pixel from the camera
that gives the truth, so that what is seen in the picture is where the truth says.
"""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterator, Sequence
from dataclasses import dataclass, field
from itertools import pairwise

import cv2
import numpy as np
from numpy.typing import NDArray

from lessonpress.records.view import View
from tests.studio.body import BALL_RADIUS, Pose, Swinger, ball_at, cross, marks_at
from tests.studio.camera import Camera, to_view
from tests.studio.room import Room
from tests.studio.strip import stamp

Picture = NDArray[np.uint8]
Points = NDArray[np.float64]
Rgb = tuple[int, int, int]
SHIFT = 4  # bits of sub-pixel places
ROUND = np.stack([np.cos(np.arange(20) * np.pi / 10), np.sin(np.arange(20) * np.pi / 10)], axis=1)


@dataclass(frozen=True)
class Solid:
    """The hull of some balls: centres (n, 3) in view coordinates and radii in m."""

    centres: Points
    radii: Sequence[float]
    colour: Rgb

    @property
    def nearness(self) -> float:
        return float(self.centres[:, 2].mean())


Actor = Callable[[float], list[Solid]]


@dataclass(frozen=True)
class Film:
    """What is filmed and how.

    marks: seconds -> name -> view coordinates; those named in `dots` are drawn as round targets on top.
    shutter: s of exposure, drawn as the mean of as many `moments`. readout: s from the first row to the last.
    """

    actor: Actor
    marks: Callable[[float], dict[str, Points]]
    camera: Camera = field(default_factory=Camera)
    room: Room = field(default_factory=Room)
    dots: Collection[str] = ()
    shutter: float = 0.0
    moments: int = 5
    readout: float = 0.0
    noise: float = 0.0
    strip: bool = False

    def pictures(self, times: Sequence[float]) -> Iterator[Picture]:
        """RGB pictures at these moments."""
        still = self.room.picture(self.camera) if self.camera.sway is None else None
        rng = np.random.default_rng(7)
        for number, t in enumerate(times):
            picture = self._rows(float(t), still)
            if self.noise:
                grain = rng.normal(0, self.noise, picture.shape[:2])[..., None]
                picture = np.clip(picture + grain, 0, 255).astype(np.uint8)
            yield stamp(picture, number) if self.strip else picture

    def _rows(self, t: float, still: Picture | None) -> Picture:
        if not self.readout:
            return self._exposed(t, still)
        height, bands = self.camera.size[1], 16
        edges = np.linspace(0, height, bands + 1).astype(int)
        picture = np.empty((height, self.camera.size[0], 3), np.uint8)
        for top, bottom in pairwise(edges):
            late = self.readout * (top + bottom) / 2 / height
            picture[top:bottom] = self._exposed(t + late, still)[top:bottom]
        return picture

    def _exposed(self, t: float, still: Picture | None) -> Picture:
        if not self.shutter:
            return self._at(t, still)
        moments = t + self.shutter * ((np.arange(self.moments) + 0.5) / self.moments - 0.5)
        mean = np.mean([self._at(float(m), still).astype(np.float32) for m in moments], axis=0)
        return np.asarray(np.round(mean).astype(np.uint8))

    def _at(self, t: float, still: Picture | None) -> Picture:
        camera = self.camera.at(t)
        canvas = self.room.picture(camera) if still is None else still.copy()
        room = self.room.marks
        stick = Solid(np.array([room["stick-top"], room["stick-foot"]]), (0.008, 0.008), (232, 206, 60))
        cord = Solid(np.array([room["cord-top"], room["cord-foot"]]), (0.008, 0.008), (30, 30, 34))
        for solid in sorted([*self.actor(t), stick, cord], key=lambda s: s.nearness):
            _fill(canvas, camera, solid)
        marks = self.marks(t)
        for name in self.dots:
            for radius, colour in ((0.026, (250, 250, 245)), (0.017, (20, 20, 24)), (0.008, (250, 250, 245))):
                _fill(canvas, camera, Solid(marks[name][None], (radius,), colour))
        return canvas


def _fill(canvas: Picture, camera: Camera, solid: Solid) -> None:
    depth = camera.ahead_of(solid.centres)[:, 2]
    if depth.min() < 0.3:
        return
    middles = camera.project(solid.centres)
    outline = [
        middle + ROUND * (radius * camera.focal / far)
        for middle, radius, far in zip(middles, solid.radii, depth, strict=True)
    ]
    points = np.concatenate(outline).astype(np.float32)
    hull = cv2.convexHull(points)[:, 0]
    places = np.round((hull - 0.5) * (1 << SHIFT)).astype(np.int32)
    cv2.fillConvexPoly(canvas, places, solid.colour, cv2.LINE_AA, SHIFT)


@dataclass(frozen=True)
class Clothes:
    shirt: Rgb = (52, 96, 132)
    sleeve: Rgb = (44, 84, 118)
    trousers: Rgb = (196, 184, 160)
    far_leg: Rgb = (176, 164, 142)
    skin: Rgb = (196, 148, 116)
    cap: Rgb = (236, 232, 222)
    shoe: Rgb = (60, 56, 54)
    shaft: Rgb = (60, 62, 66)
    head: Rgb = (24, 26, 30)


CLOTHES = {
    "Dune": Clothes(),
    "Shingle": Clothes(
        shirt=(206, 198, 178),
        sleeve=(186, 178, 158),
        trousers=(50, 56, 66),
        far_leg=(40, 46, 54),
        skin=(132, 88, 62),
        cap=(122, 44, 38),
    ),
}


def golfer(swinger: Swinger, view: View, clothes: Clothes | None = None) -> Actor:
    """The swinger and the ball as solids in view coordinates. clothes: the swinger's own if None."""
    clothes = clothes or CLOTHES.get(swinger.name, Clothes())

    def at(t: float) -> list[Solid]:
        pose = swinger.motion.pose(t)
        solids = [
            Solid(to_view(solid.centres, view, swinger.hand), solid.radii, solid.colour)
            for solid in _pieces(pose, clothes, swinger.girth)
        ]
        ball = to_view(ball_at(swinger, t)[None], view, swinger.hand)
        return [*solids, Solid(ball, (BALL_RADIUS,), (250, 250, 246))]

    return at


def _pieces(pose: Pose, clothes: Clothes, girth: float) -> Iterator[Solid]:
    """The figure in swing coordinates. Widths are fractions of stature times girth."""
    j, h = pose.joints, pose.stature

    def hull(names: Sequence[str], widths: Sequence[float], colour: Rgb) -> Solid:
        return Solid(np.array([j[name] for name in names]), [w * h * girth for w in widths], colour)

    for side in ("trail", "lead"):
        cloth = clothes.trousers if side == "lead" else clothes.far_leg
        yield hull((f"{side}-hip", f"{side}-knee"), (0.052, 0.036), cloth)
        yield hull((f"{side}-knee", f"{side}-ankle"), (0.036, 0.026), cloth)
        yield hull((f"{side}-heel", f"{side}-toe", f"{side}-ankle"), (0.018, 0.014, 0.024), clothes.shoe)
        yield hull((f"{side}-shoulder", f"{side}-elbow"), (0.036, 0.027), clothes.sleeve)
        yield hull((f"{side}-elbow", f"{side}-wrist"), (0.025, 0.017), clothes.skin)
        yield hull((f"{side}-wrist", f"{side}-hand"), (0.017, 0.021), clothes.skin)
    yield hull(("lead-hip", "trail-hip", "pelvis"), (0.05, 0.05, 0.062), clothes.trousers)
    yield hull(
        ("lead-shoulder", "trail-shoulder", "navel", "pelvis", "c7"),
        (0.036, 0.036, 0.01, 0.058, 0.03),
        clothes.shirt,
    )
    yield hull(("c7", "head"), (0.03, 0.05), clothes.skin)
    brim = j["head"] + 0.085 * h * pose.face + 0.02 * h * pose.head_up
    cap = np.array([j["head"] + 0.025 * h * pose.head_up, brim])
    yield Solid(cap, [0.052 * h, 0.012 * h], clothes.cap)
    yield hull(("implement-butt", "trail-hand"), (0.007, 0.006), (20, 20, 22))
    yield hull(("trail-hand", "implement-head"), (0.0045, 0.0035), clothes.shaft)
    toe = cross(pose.club, pose.clubface)
    toe = toe if toe[2] > 0 or abs(pose.club[1]) < 0.5 else -toe
    head = j["implement-head"]
    yield Solid(np.array([head - 0.02 * toe, head + 0.03 * toe]), (0.012, 0.022), clothes.head)


def film_of(swinger: Swinger, camera: Camera, view: View = "face-on", **how: object) -> Film:
    """A film of a swinger, marks in view coordinates, the room's with them. how: `clothes`, or of Film."""
    room, clothes = how.pop("room", Room()), how.pop("clothes", None)
    assert isinstance(room, Room)
    assert clothes is None or isinstance(clothes, Clothes)

    def marks(t: float) -> dict[str, Points]:
        body = {n: to_view(p, view, swinger.hand) for n, p in marks_at(swinger, t).items()}
        return {**body, **room.marks}

    return Film(golfer(swinger, view, clothes), marks, camera, room, **how)  # type: ignore[arg-type]
