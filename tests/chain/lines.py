"""How far drawn lines lie from the lines of the room that they mark."""

from __future__ import annotations

from itertools import pairwise

import numpy as np

from lessonpress.figures.plates import DrawnOverlay
from lessonpress.overlays.shapes import Stroke
from tests.chain.chain import Points
from tests.studio.camera import Camera

UP, ACROSS = (0.0, 1.0, 0.0), (1.0, 0.0, 0.0)


def astray(drawn: DrawnOverlay, camera: Camera, spot: Points, along: tuple[float, float, float]) -> float:
    """Greatest distance in px of a drawn line's points from the true line of the room through a spot."""
    stroke = next(shape for shape in drawn.shapes if isinstance(shape, Stroke))
    true = camera.project(spot + np.linspace(-12, 12, 4801)[:, None] * np.array(along))
    true = true[np.isfinite(true).all(axis=1)]
    fine = np.concatenate([np.linspace(a, b, 60) for a, b in pairwise(np.array(stroke.points))])
    inside = fine[(fine >= 0).all(axis=1) & (fine <= np.array(camera.size)).all(axis=1)]
    assert len(inside) > 10
    return float(max(_off(point, true) for point in inside))


def _off(point: Points, line: Points) -> float:
    a, b = line[:-1], line[1:]
    way = b - a
    share = np.clip(((point - a) * way).sum(axis=1) / (way**2).sum(axis=1), 0, 1)
    return float(np.hypot(*(a + share[:, None] * way - point).T).min())
