"""Where marks and the room's lines are in the pictures, in px: what drawing asks of a scene."""

from __future__ import annotations

import math

import numpy as np

from lessonpress.measure.body.anthropometry import mark_weights
from lessonpress.measure.formulas import circle_fit
from lessonpress.measure.inputs.setting import At
from lessonpress.measure.kinds.balance import marks_of
from lessonpress.measure.kinds.instead import turned_end
from lessonpress.measure.kinds.path import frames_of_way
from lessonpress.measure.optics.bend import distorted, fold
from lessonpress.measure.scene import Scene
from lessonpress.measure.uncertainty.refusal import Refusal, RefusedError
from lessonpress.records import Point

CIRCLE_STEPS = 97
STEPS = 48  # pieces of a line that the lens bends
REACH = 1.5  # of the picture's longer side: far enough past its edge


def position(scene: Scene, at: At, on: int | None = None) -> Point:
    """Where a mark or middle is in the picture of its frame, or where that place of the room is on `on`.

    Raises KeyError for a mark not placed there.
    """
    try:
        best = scene.observations.best(at)
    except RefusedError as refused:
        raise KeyError(refused.refusal.reason) from None
    return best if on is None else scene.observations.moved(best, at.frame, on)


def in_plane(scene: Scene, point: Point, frame: int | None) -> Point:
    """A picture point as a point of the subject plane, m right and up of the lens."""
    x, y = scene.observations.moved(point, _frame(scene, frame), _reference(scene))
    p, q = scene.optics.centred(np.array([x]), np.array([y]), scene.best)
    right, up = scene.pose.placed(p, q, np.zeros(1))
    return float(right[0]), float(up[0])


def shown(scene: Scene, right: float, up: float, frame: int | None) -> Point:
    """A point of the subject plane in a picture, px; the inverse of `in_plane`."""
    p, q = scene.pose.seen(np.array([right]), np.array([up]), np.zeros(1))
    p, q = distorted(scene.optics.bend(scene.best), p, q)
    centre = scene.setting.centre
    point = float(centre[0] + p[0]), float(centre[1] - q[0])
    return scene.observations.moved(point, _reference(scene), _frame(scene, frame))


def through(scene: Scene, point: Point, along: Point, frame: int | None) -> tuple[Point, ...]:
    """A line of the room through a picture point, from one side of the picture to far past the other.

    along: its direction, right and up. Two points where the lens is straight, else a line of many pieces.
    A vertical ends short of the vanishing point, behind which nothing is seen, and a line that the lens bends
    ends where the lens's formula would fold it back into the picture.
    """
    right, up = in_plane(scene, point, frame)
    reach = REACH * max(scene.setting.size) * float(scene.pose.metres[0])
    ends = _before_the_lens(scene, up, along, reach)
    count = 2 if scene.optics.bend(scene.best).none else STEPS + 1
    steps = [
        t for t in np.linspace(*ends, count) if _unfolded(scene, right + t * along[0], up + t * along[1])
    ]
    return tuple(shown(scene, right + t * along[0], up + t * along[1], frame) for t in steps)


def _unfolded(scene: Scene, right: float, up: float) -> bool:
    """Whether a point of the subject plane lies where the lens's formula still holds."""
    p, q = scene.pose.seen(np.array([right]), np.array([up]), np.zeros(1))
    return float(np.hypot(p, q)[0]) < fold(scene.optics.bend(scene.best))


def _before_the_lens(scene: Scene, up: float, along: Point, reach: float) -> tuple[float, float]:
    """How far a line can be followed either way and stay before the camera, m."""
    pitch, metres = float(scene.pose.attitude.pitch[0]), float(scene.pose.metres[0])
    slope = math.sin(pitch) * along[1]
    if slope == 0:
        return -reach, reach
    focal = float(scene.pose.attitude.focal[0])
    vanishing = (-0.98 * focal * metres * math.cos(pitch) - math.sin(pitch) * up) / slope
    return (max(-reach, vanishing), reach) if slope > 0 else (-reach, min(reach, vanishing))


def fitted_circle(scene: Scene, mark: str, start: int, end: int, on: int) -> tuple[Point, ...] | Refusal:
    """Centre, then the points of the circle of a mark's way, in the picture of frame `on`, px.

    Fitted to the places as the picture shows them in the subject plane, so that it lies on them.
    """
    first, last = min(start, end), max(start, end)
    try:
        frames = frames_of_way(scene, mark, first, last)
    except RefusedError as refused:
        return refused.refusal
    places = np.array([in_plane(scene, position(scene, At(mark, frame)), frame) for frame in frames])
    a, b, r = (float(part[0]) for part in circle_fit.circle(places[:, :1], places[:, 1:]))
    if not math.isfinite(r):
        return Refusal("the places do not lie on a circle", "fit it over a longer stretch")
    turns = np.linspace(0, 2 * math.pi, CIRCLE_STEPS)
    line = (shown(scene, a + r * math.cos(t), b + r * math.sin(t), on) for t in turns)
    return (shown(scene, a, b, on), *line)


def centre_of_mass(scene: Scene, frame: int) -> Point | Refusal:
    """The centre of mass in a picture, px: the marks' places, weighed as `balance` weighs them."""
    try:
        points = marks_of(scene, frame)
    except RefusedError as refused:
        return refused.refusal
    weights = mark_weights()
    places = {at.mark: position(scene, at) for at in points}
    x = sum(weight * places[mark][0] for mark, weight in weights.items())
    y = sum(weight * places[mark][1] for mark, weight in weights.items())
    return x, y


def instead_place(scene: Scene, a: At, v: At, b: At, to: float) -> Point:
    """Where b would be in the picture of its frame, px, had the inside angle at v been `to` deg.

    Turned in the subject plane as the picture shows it. Raises KeyError for a mark not placed.
    """
    flat = [in_plane(scene, position(scene, at), at.frame) for at in (a, v, b)]
    right = scene.setting.positive_right
    goalward = [(np.array([right * x]), np.array([y])) for x, y in flat]
    x, y = turned_end(goalward, to)
    return shown(scene, right * float(x[0]), float(y[0]), b.frame)


def px_per_metre(scene: Scene, at: At | None) -> float | None:
    """Px along the level axis for a metre of the subject plane, at a mark's place or the picture's centre."""
    if not scene.metric:
        return None
    point = scene.setting.centre if at is None else position(scene, at)
    frame = None if at is None else at.frame
    right, up = in_plane(scene, point, frame)
    start, end = shown(scene, right - 0.5, up, frame), shown(scene, right + 0.5, up, frame)
    px = math.hypot(end[0] - start[0], end[1] - start[1])
    return px if math.isfinite(px) else None


def _reference(scene: Scene) -> int:
    return scene.observations.motion.reference if scene.observations.motion is not None else 0


def _frame(scene: Scene, frame: int | None) -> int:
    """The frame a line is drawn on; one that is not registered is drawn on as if it were the reference.

    Nothing of another picture may be placed there, but its own lines may.
    """
    motion = scene.observations.motion
    if frame is None or (motion is not None and not np.isfinite(motion.to_reference[frame]).all()):
        return _reference(scene)
    return frame
