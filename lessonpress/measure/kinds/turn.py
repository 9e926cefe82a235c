"""Rotation about the vertical, read from foreshortening."""

from __future__ import annotations

import math

import numpy as np

from lessonpress.measure import geometry
from lessonpress.measure.measured import Measured
from lessonpress.measure.posture import bare
from lessonpress.measure.propagation import Values, first_order
from lessonpress.measure.quantities import FloatArray, Quantity
from lessonpress.measure.reckoning import Asked, degrees, reckon
from lessonpress.measure.refusal import RefusedError
from lessonpress.measure.scene import Scene
from lessonpress.measure.setting import At

SQUARE_U = 5.0  # deg: how square to the camera a line across the body stands at first
# The trail hand holds the grip lower, so the shoulders lean sideways; about a trunk bent 35° to the ball a
# lean of 14° opens them by atan(tan 14° sin 35°) = 8°.
SHOULDERS_SQUARE_U = 8.0  # deg
LEAST = 1.0  # deg: an interval that reaches down to here does not tell a turn from none
NARROWEST = 6.0  # the line at first must be this many times its own uncertainty


def turn(scene: Scene, then: tuple[At, At], now: tuple[At, At]) -> Measured:
    """How far the line a→b has turned about the vertical, deg, a magnitude 0 to 180, drawn by Monte Carlo.

    The line is taken to have stood square to the camera at first, u 5° (shoulders 8°):
    φ = acos(ΔX now / ΔX then). Draws keep their order under acos, so their interval covers as the
    foreshortening's own does, near zero too.
    Refuses where the interval reaches zero, saying what the turn does not exceed; views along the target
    line, from which such a line is seen end on; and a line too short at first. Source: foreshortening by the
    cosine, any text on orthographic projection.
    """
    scene.check_faced("a turn from foreshortening")
    square_u = SHOULDERS_SQUARE_U if any(bare(at.mark) == "shoulder" for at in then) else SQUARE_U
    square = scene.quantities.add(
        Quantity(
            f"{scene.setting.clip}/square/{then[0].mark}/{then[1].mark}/{then[0].frame}",
            f"how square {then[0].mark} to {then[1].mark} stood at first",
            0.0,
            math.radians(square_u),
            "rad",
        )
    )
    scene.notes[square] = f"square to the camera at first, u {square_u:.0f}°"

    def spans(values: Values) -> tuple[FloatArray, FloatArray]:
        a0, b0, a1, b1 = scene.placed(values, (*then, *now))
        return geometry.level(a0, b0), geometry.level(a1, b1)

    def model(values: Values) -> FloatArray:
        first, later = spans(values)
        off = values[square]
        return np.asarray(np.degrees(np.arccos(np.clip(later / first * np.cos(off), -1, 1)) - off))

    def worked(value: float) -> str:
        first, later = (scene.length(float(span[0])) for span in spans(scene.best))
        return f"acos({later} / {first}) = {degrees(value)}"

    points = (*then, *now)
    scene.check_points(points)
    at_first = first_order(lambda values: spans(values)[0], scene.quantities)
    if abs(at_first.value) < NARROWEST * at_first.u:
        if scene.lengths_refused is not None:
            raise RefusedError(
                f"how far the line's ends stand before the camera counts in a turn, and "
                f"{scene.lengths_refused.reason}",
                scene.lengths_refused.way_out,
            )
        raise RefusedError(
            "the line is too short at first to show a turn", "choose an instant when it faces the camera"
        )
    found = reckon(scene, Asked(model, "angle", points, "φ = acos(ΔX now ÷ ΔX at first)", worked, drawn=True))
    if found.low < LEAST:
        raise RefusedError(
            f"a turn of no more than {math.ceil(found.high)}°: so near square it is not told from none",
            "measure it later in the turn, or say in words that it is small",
        )
    return found
