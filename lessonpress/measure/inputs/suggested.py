"""What the errors of suggested places have in common: near in time, of the two sides, above the shoulders.

An error that several places share is written as inputs of its own, each independent of all others, so that
budget, first order and draws need to know nothing of correlation (JCGM 100:2008, F.1.2.3, equation F.1; the
covariance of two places is the sum of the products of their sensitivities to what they share).

A mark's error runs on in time: it has a value w_k, of u 1, at every multiple k of `lasts`, and between two
of them, a fraction f past the first, it is cos(π f / 2) w_k + sin(π f / 2) w_{k+1}. Its size is the same at
all times, since cos² + sin² = 1, and times `lasts` apart have a correlation of ½ sin(π f), those twice as far
apart none. (Own choice: of such courses the one that reads fewest inputs.)
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass

from lessonpress.measure.inputs.setting import Setting
from lessonpress.measure.uncertainty.quantities import Quantity
from lessonpress.records import PAIRED, Observation, SuggestedErrors

AXES = (("x", "across"), ("y", "down"))
TRAIL = "trail"


@dataclass(frozen=True)
class Common:
    """An error that places share. across, down: its inputs. times: px by which each moves the place, for one
    of the input's unit.
    """

    across: Quantity
    down: Quantity
    times: tuple[float, float] = (1.0, 1.0)

    @property
    def u(self) -> tuple[float, float]:
        """Standard uncertainty that it brings, px across and down."""
        return abs(self.times[0]) * self.across.u, abs(self.times[1]) * self.down.u


def axes_of(setting: Setting, mark: str) -> tuple[float, float]:
    """Times a suggested place's u for its standard uncertainty across and down."""
    return (1.0, 1.0) if setting.suggested is None else setting.suggested.axes.get(mark, (1.0, 1.0))


def commons(setting: Setting, seen: Observation, u: tuple[float, float]) -> tuple[Common, ...]:
    """What a suggested place of standard uncertainty u, px across and down, shares with others.

    The variance that is left to the place alone is `own` of u². None where nothing is known of it.
    """
    errors = setting.suggested
    if errors is None or setting.times is None:
        return ()
    return tuple(_commons(setting.clip, seen, u, errors, setting.times[seen.frame]))


def _commons(
    clip: str, seen: Observation, u: tuple[float, float], errors: SuggestedErrors, time: float
) -> Iterator[Common]:
    of, words, correlations = _group(seen.mark, errors)
    most = math.sqrt(1 - errors.own)  # of a correlation: what lasts is no larger
    shared = tuple(max(-1.0, min(1.0, one / most)) for one in correlations)
    alone = tuple(math.sqrt(1 - one**2) for one in shared)
    step = math.floor(time / errors.lasts)
    angle = (time / errors.lasts - step) * math.pi / 2
    for knot, weight in ((step, math.cos(angle)), (step + 1, math.sin(angle))):
        when = f"about {knot * errors.lasts:.2f} s"
        for share, about in ((alone, (seen.mark, seen.mark)), (shared, (of, words))):
            if any(share):
                across, down = _inputs(clip, *about, when, knot)
                x, y = (most * weight * one * own for one, own in zip(u, share, strict=True))
                yield Common(across, down, (x, y))


def _group(mark: str, errors: SuggestedErrors) -> tuple[str, str, tuple[float, float]]:
    """Name and words of what a mark errs together with, and the correlations of its error, across and down,
    with what they have in common.
    """
    if mark in errors.neck:
        *others, last = errors.neck
        return "neck", f"{', '.join(others)} and {last}", errors.neck[mark]
    side, _, part = mark.partition("-")
    across, down = (
        math.copysign(math.sqrt(abs(r)), r if side == TRAIL else 1.0)
        for r in (errors.pairs.get(part, (0.0, 0.0)) if part in PAIRED else (0.0, 0.0))
    )
    return part, f"both {part}s", (across, down)


def _inputs(clip: str, of: str, words: str, when: str, knot: int) -> tuple[Quantity, Quantity]:
    across, down = (
        Quantity(
            f"{clip}/suggested/{of}/{knot}/{axis}",
            f"common error of {words} as suggested, {when}, {way}",
            0.0,
            1.0,
            "",
            least=1.0,
        )
        for axis, way in AXES
    )
    return across, down
