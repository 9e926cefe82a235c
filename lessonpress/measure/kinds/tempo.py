"""Backswing to downswing."""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from lessonpress.measure.evaluation import Measurand, evaluate
from lessonpress.measure.formulas.arrays import FloatArray
from lessonpress.measure.scene import Scene
from lessonpress.measure.uncertainty.measured import Measured
from lessonpress.measure.uncertainty.propagation import Values
from lessonpress.measure.uncertainty.quantities import Quantity, limited
from lessonpress.measure.uncertainty.refusal import RefusedError


def tempo(scene: Scene, start: int, top: int, impact: int) -> Measured:
    """(top − start) ÷ (impact − top), from the real times of three frames; a ratio.

    Each event is good to half a captured picture, before or after. Refuses without times, events out of
    order, and a downswing too short for its ends.
    """
    scene.check_times()
    times = scene.setting.times or ()
    if not start < top < impact < len(times):
        raise RefusedError("start, top and impact do not follow each other", "check the events on the card")
    events = [
        _event(scene, words, frame) for words, frame in (("start", start), ("top", top), ("impact", impact))
    ]

    def model(values: Values) -> FloatArray:
        first, middle, last = (values[event] for event in events)
        return np.asarray((middle - first) / (last - middle))

    def worked(value: float) -> str:
        return f"{times[top] - times[start]:.3f} s ÷ {times[impact] - times[top]:.3f} s = {value:.2f}"

    measurand = Measurand(model, "ratio", (), "(top − start) ÷ (impact − top)", worked, upright=False)
    ratio = replace(evaluate(scene, measurand), frames=(start, top, impact), plane="")
    if not ratio.low > 0:
        raise RefusedError(
            "the downswing has too few pictures for a tempo", "film at more pictures per second"
        )
    return ratio


def _event(scene: Scene, words: str, frame: int) -> Quantity:
    """The input for the time of an event, s, to half a captured picture."""
    times = scene.setting.times or ()
    before = times[frame] - times[frame - 1] if frame > 0 else 0.0
    after = times[frame + 1] - times[frame] if frame + 1 < len(times) else 0.0
    return limited(
        f"{scene.setting.clip}/event/{words}/{frame}",
        f"{words}, to half a picture",
        times[frame],
        max(before, after) / 2,
        "s",
    )
