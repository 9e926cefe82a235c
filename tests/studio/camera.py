"""A true perspective camera, written from the textbook and apart from the program that it tests.

View coordinates, metres: r to the picture's right, y up, d toward the camera, for a camera that looks
straight at the scene; the origin lies on the floor midway between the swinger's ankles. Picture coordinates
are the program's: x right, y down, (0, 0) the outer corner of the first pixel.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import cached_property

import numpy as np
from numpy.typing import NDArray

from lessonpress.records.view import View

Points = NDArray[np.float64]


def to_view(points: Points, view: View, hand: str) -> Points:
    """Swing coordinates (x toward the target, y up, z ahead of the figure) -> view coordinates (r, y, d).

    A face-on camera faces the figure; one down the line is on the trail side and looks toward the target.
    A left-handed swing is the mirror image of a right-handed one.
    """
    placed = np.asarray(points, dtype=float)
    x, y, z = placed[..., 0], placed[..., 1], placed[..., 2]
    mirror = 1.0 if hand == "right" else -1.0
    across, toward = {
        "face-on": (x, z),
        "from-behind": (-x, -z),
        "down-the-line": (z, -x),
        "from-target": (-z, x),
    }[view]
    return np.stack([mirror * across, y, toward], axis=-1)


@dataclass(frozen=True)
class Sway:
    """How a hand moves a camera: slow sines, amplitudes in m and degrees, one seed one path.

    clock: (seconds, seconds of the sines) pairs for a hand that follows a swing played at another pace.
    """

    metres: float = 0.02
    degrees: float = 0.35
    seed: int = 1
    clock: tuple[tuple[float, float], ...] = ()

    def at(self, t: float) -> tuple[Points, Points]:
        """((r, y, d) in m, (yaw, pitch, roll) in degrees) away from the camera's own place at t seconds."""
        t = float(np.interp(t, *zip(*self.clock, strict=True))) if self.clock else t
        rng = np.random.default_rng(self.seed)
        hertz = rng.uniform(0.25, 1.1, size=(6, 2))
        phase = rng.uniform(0, 2 * np.pi, size=(6, 2))
        # nothing at t = 0, so that the first picture is filmed from the camera's stated place
        waves = (np.sin(2 * np.pi * hertz * t + phase) - np.sin(phase)) @ np.array([0.65, 0.35])
        return self.metres * waves[:3], self.degrees * waves[3:] * np.array([1.0, 0.8, 0.6])


@dataclass(frozen=True)
class Camera:
    """position: (r, y, d) in m. yaw: positive turns the camera to its own right; pitch: positive looks down;
    roll: positive turns the camera clockwise as its holder sees it, so that the picture turns the other way
    round. All in degrees, applied yaw, pitch, roll. focal: px. centre: where the axis meets the picture, the
    picture's middle if None. lens: distorted = x (1 + k1 r² + k2 r⁴), r in focal lengths.
    """

    position: tuple[float, float, float] = (0.0, 1.0, 14 * 0.3048)
    yaw: float = 0.0
    pitch: float = 0.0
    roll: float = 0.0
    focal: float = 1400.0
    size: tuple[int, int] = (1280, 720)
    centre: tuple[float, float] | None = None
    k1: float = 0.0
    k2: float = 0.0
    sway: Sway | None = None

    @property
    def middle(self) -> tuple[float, float]:
        return self.centre or (self.size[0] / 2, self.size[1] / 2)

    def at(self, t: float) -> Camera:
        """The camera as it is t seconds into the clip."""
        if self.sway is None:
            return self
        moved, turned = self.sway.at(t)
        r, y, d = (np.array(self.position) + moved).tolist()
        return replace(
            self,
            position=(r, y, d),
            yaw=self.yaw + float(turned[0]),
            pitch=self.pitch + float(turned[1]),
            roll=self.roll + float(turned[2]),
            sway=None,
        )

    @cached_property
    def axes(self) -> Points:
        """Rows: the camera's right, up and ahead as unit vectors in view coordinates."""
        y, p, r = np.radians([self.yaw, self.pitch, self.roll])
        ahead = np.array([np.sin(y) * np.cos(p), -np.sin(p), -np.cos(y) * np.cos(p)])
        level_right = np.array([np.cos(y), 0.0, np.sin(y)])
        level_up = np.cross(level_right, ahead)
        right = np.cos(r) * level_right - np.sin(r) * level_up
        up = np.sin(r) * level_right + np.cos(r) * level_up
        return np.stack([right, up, ahead])

    def ahead_of(self, points: Points) -> Points:
        """Points in the camera's own coordinates: right, up, ahead, in m."""
        return np.asarray((np.asarray(points, dtype=float) - np.array(self.position)) @ self.axes.T)

    def project(self, points: Points) -> Points:
        """View coordinates (…, 3) in m -> picture (…, 2) in px. Points behind the camera become nan."""
        own = self.ahead_of(points)
        depth = np.where(own[..., 2] > 0.05, own[..., 2], np.nan)
        x, y = own[..., 0] / depth, -own[..., 1] / depth
        square = x * x + y * y
        grow = 1 + self.k1 * square + self.k2 * square**2
        cx, cy = self.middle
        return np.stack([cx + self.focal * x * grow, cy + self.focal * y * grow], axis=-1)

    @property
    def level_right(self) -> Points:
        """The level direction to the picture's right, in view coordinates: the subject plane's level axis."""
        y = np.radians(self.yaw)
        return np.array([np.cos(y), 0.0, np.sin(y)])

    @property
    def distance(self) -> float:
        """Level distance in m from the lens to the subject plane, the upright plane through the origin that
        faces the camera."""
        return self.distance_to(np.zeros(3))

    def distance_to(self, point: Points) -> float:
        """The same to the upright plane through another point (the wall's, say)."""
        y = np.radians(self.yaw)
        away = np.array([np.sin(y), 0.0, -np.cos(y)])
        return float((np.asarray(point, dtype=float) - np.array(self.position)) @ away)


def looking_at(
    target: tuple[float, float, float], position: tuple[float, float, float], camera: Camera
) -> Camera:
    """The camera moved to position and turned so that its axis meets target, its roll kept."""
    r, y, d = (np.array(target) - np.array(position)).tolist()
    yaw = float(np.degrees(np.arctan2(r, -d)))
    pitch = float(np.degrees(np.arctan2(-y, np.hypot(r, d))))
    return replace(camera, position=position, yaw=yaw, pitch=pitch)
