"""Where marks and the room's lines stand in the pictures, in px: what drawing asks of a scene."""

from __future__ import annotations

import math

import numpy as np

from lessonpress.measure.lens import distorted
from lessonpress.measure.lens import straight as straight_lens
from lessonpress.measure.refusal import RefusedError
from lessonpress.measure.scene import Scene
from lessonpress.measure.setting import At

Point = tuple[float, float]
STEPS = 48  # pieces of a line that the lens bends
REACH = 1.5  # of the picture's longer side: far enough past its edge


def place(scene: Scene, at: At, on: int | None = None) -> Point:
    """Where a mark or middle stands in the picture of its frame, or where that place of the room is on `on`.

    Raises KeyError for a mark not placed there.
    """
    try:
        best = scene.points.best(at)
    except RefusedError as refused:
        raise KeyError(refused.refusal.reason) from None
    return best if on is None else scene.points.moved(best, at.frame, on)


def in_plane(scene: Scene, point: Point, frame: int | None) -> Point:
    """A picture point as a point of the subject plane, m right and up of the lens."""
    x, y = scene.points.moved(point, _frame(scene, frame), _reference(scene))
    p, q = scene.points.centred(np.array([x]), np.array([y]))
    right, up = scene.pose.placed(p, q, np.zeros(1))
    return float(right[0]), float(up[0])


def shown(scene: Scene, right: float, up: float, frame: int | None) -> Point:
    """A point of the subject plane in a picture, px; the inverse of `in_plane`."""
    p, q = scene.pose.seen(np.array([right]), np.array([up]), np.zeros(1))
    p, q = distorted(scene.setting.lens, p, q)
    centre = scene.setting.centre
    point = float(centre[0] + p[0]), float(centre[1] - q[0])
    return scene.points.moved(point, _reference(scene), _frame(scene, frame))


def through(scene: Scene, point: Point, along: Point, frame: int | None) -> tuple[Point, ...]:
    """A line of the room through a picture point, from one side of the picture to far past the other.

    along: its direction, right and up. Two points where the lens is straight, else a line of many pieces.
    A vertical ends short of the vanishing point, behind which nothing is seen.
    """
    right, up = in_plane(scene, point, frame)
    reach = REACH * max(scene.setting.size) * float(scene.pose.metres[0])
    ends = _before_the_lens(scene, up, along, reach)
    count = 2 if straight_lens(scene.setting.lens) else STEPS + 1
    steps = np.linspace(ends[0], ends[1], count)
    return tuple(shown(scene, right + t * along[0], up + t * along[1], frame) for t in steps)


def _before_the_lens(scene: Scene, up: float, along: Point, reach: float) -> tuple[float, float]:
    """How far a line can be followed either way and stay before the camera, m."""
    pitch, metres = float(scene.pose.attitude.pitch[0]), float(scene.pose.metres[0])
    slope = math.sin(pitch) * along[1]
    if slope == 0:
        return -reach, reach
    focal = float(scene.pose.attitude.focal[0])
    vanishing = (-0.98 * focal * metres * math.cos(pitch) - math.sin(pitch) * up) / slope
    return (max(-reach, vanishing), reach) if slope > 0 else (-reach, min(reach, vanishing))


def px_per_metre(scene: Scene, at: At | None) -> float | None:
    """Px along the level axis for a metre of the subject plane, at a mark's place or the picture's centre."""
    if not scene.metric:
        return None
    point = scene.setting.centre if at is None else place(scene, at)
    frame = None if at is None else at.frame
    right, up = in_plane(scene, point, frame)
    start, end = shown(scene, right - 0.5, up, frame), shown(scene, right + 0.5, up, frame)
    return math.hypot(end[0] - start[0], end[1] - start[1])


def _reference(scene: Scene) -> int:
    return scene.points.motion.reference if scene.points.motion is not None else 0


def _frame(scene: Scene, frame: int | None) -> int:
    return _reference(scene) if frame is None else frame
