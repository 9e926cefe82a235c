"""A direction as a clock time."""

from __future__ import annotations

from lessonpress.measure import geometry
from lessonpress.measure.measured import Measured
from lessonpress.measure.reckoning import Asked, degrees, reckon
from lessonpress.measure.scene import Scene
from lessonpress.measure.setting import At


def clock(scene: Scene, a: At, b: At) -> Measured:
    """Direction a→b on a clock face as filmed, deg clockwise from 12: 3 o'clock is the picture's right."""

    def worked(value: float) -> str:
        dx, dy = scene.best_span(a, b, goalward=False)
        return f"atan2({scene.length(dx)}, {scene.length(dy)}) = {degrees(value)}, 30° an hour"

    return reckon(
        scene,
        Asked(
            lambda values: geometry.clock(*scene.placed(values, (a, b), goalward=False)),
            "clock",
            (a, b),
            "direction = atan2(ΔX to the right, ΔY), 30° an hour",
            worked,
            period=360,
            direction=True,
            upright=False,
        ),
    )
