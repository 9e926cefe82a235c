"""A true camera and a true golfer for the measure room's tests: OpenCV's pinhole, every input drawn.

Nothing here uses the room's own camera: points are projected by cv2.projectPoints, so that a wrong sign in
one of the two cannot hide in the other.
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

import cv2
import numpy as np
from numpy.typing import NDArray

from lessonpress.records.mark import Observation

SIZE = (1280, 720)
CLICK_U = 1.5  # px: 1.5 px per 720 px of the shorter side
TRACK_U = 0.4  # px


@dataclass
class TrueCamera:
    """roll, pitch: rad, as a builder would say them: clockwise, upward. focal px. distance m to the plane."""

    roll: float = 0.0
    pitch: float = 0.0
    focal: float = 1400.0
    distance: float = 4.3
    size: tuple[int, int] = SIZE
    k1: float = 0.0
    k2: float = 0.0
    yaw: float = 0.0
    sway: tuple[float, float, float] = (0.0, 0.0, 0.0)

    def project(self, points: Sequence[Sequence[float]]) -> NDArray[np.float64]:
        """Picture points, shape (n, 2), of room points (X right, Y up, depth toward us), shape (n, 3)."""
        room = np.asarray(points, dtype=float).reshape(-1, 3)
        # OpenCV's axes: x right, y down, z ahead, from the lens
        seen = np.column_stack(
            [room[:, 0] - self.sway[0], self.sway[1] - room[:, 1], self.distance - self.sway[2] - room[:, 2]]
        )
        # looking up by the pitch lowers what is seen: a turn of the scene about x, then about the axis
        cos_p, sin_p = math.cos(self.pitch), math.sin(self.pitch)
        nod = np.array([[1, 0, 0], [0, cos_p, sin_p], [0, -sin_p, cos_p]])
        cos_y, sin_y = math.cos(self.yaw), math.sin(self.yaw)
        pan = np.array([[cos_y, 0, -sin_y], [0, 1, 0], [sin_y, 0, cos_y]])
        cos_r, sin_r = math.cos(self.roll), math.sin(self.roll)
        turn = np.array([[cos_r, sin_r, 0], [-sin_r, cos_r, 0], [0, 0, 1]])
        rotation, _ = cv2.Rodrigues(turn @ nod @ pan)
        inner = np.array([[self.focal, 0, self.size[0] / 2], [0, self.focal, self.size[1] / 2], [0, 0, 1.0]])
        bend = np.array([self.k1, self.k2, 0, 0])
        shown, _ = cv2.projectPoints(seen, rotation, np.zeros(3), inner, bend)
        return np.asarray(shown.reshape(-1, 2), dtype=float)


@dataclass
class Room:
    """Marks of one drawn clip: true places by (mark, frame), then clicked or tracked with an error.

    carried_from: tracked marks, with the frame their track began at. moved: cameras of single frames.
    """

    camera: TrueCamera
    generator: np.random.Generator
    click_u: float = CLICK_U
    carried_from: dict[str, int] = field(default_factory=dict)
    moved: dict[int, TrueCamera] = field(default_factory=dict)
    true: dict[tuple[str, int], tuple[float, float, float]] = field(default_factory=dict)

    @property
    def aim(self) -> float:
        """Height above the lens, m, of the spot of the subject plane that the camera is aimed at."""
        return self.camera.distance * math.tan(self.camera.pitch)

    def put(self, mark: str, frame: int, x: float, y: float, depth: float = 0.0) -> None:
        """x level and y up from where the axis meets the subject plane, m."""
        self.true[mark, frame] = (x, y + self.aim, depth)

    def shown(self) -> NDArray[np.float64]:
        """Where every mark is seen, px, each by the camera of its frame."""
        cameras = [self.moved.get(frame, self.camera) for _, frame in self.true]
        return np.array([c.project([place])[0] for c, place in zip(cameras, self.true.values(), strict=True)])

    def sighted(self) -> list[Observation]:
        """Every mark as a hand places it, or as tracking carries it from the hand's place with its error."""
        errors = self.generator.normal(0.0, self.click_u, (len(self.true), 2))
        clicks = dict(zip(self.true, errors, strict=True))
        found = []
        for (mark, frame), place in zip(self.true, self.shown(), strict=True):
            origin = self.carried_from.get(mark, frame)
            if origin == frame:
                x, y = place + clicks[mark, frame]
                found.append(Observation(mark, frame, float(x), float(y)))
            else:
                x, y = place + clicks[mark, origin] + self.generator.normal(0.0, TRACK_U, 2)
                found.append(
                    Observation(mark, frame, float(x), float(y), TRACK_U, tracked=True, origin=origin)
                )
        return found


def rectangular(generator: np.random.Generator, value: float, within: float) -> float:
    return float(generator.uniform(value - within, value + within))


def share_inside(inside: Mapping[str, Sequence[bool]]) -> dict[str, float]:
    """Percent of repeats inside ±, by measure."""
    return {name: 100 * float(np.mean(hits)) for name, hits in inside.items()}
