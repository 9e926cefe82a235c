"""What the errors of suggested places have in common: near in time, and on the two sides of the body.

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


def commons(setting: Setting, seen: Observation, u: float) -> tuple[Common, ...]:
    """What a suggested place of standard uncertainty u, px per axis, shares with others.

    The variance that is left to the place alone is `own` of u². None where nothing is known of it.
    """
    errors = setting.suggested
    if errors is None or setting.times is None:
        return ()
    return tuple(
        _commons(setting.clip, seen, u * math.sqrt(1 - errors.own), errors, setting.times[seen.frame])
    )


def _commons(
    clip: str, seen: Observation, u: float, errors: SuggestedErrors, time: float
) -> Iterator[Common]:
    side, part = _side_and_part(seen.mark)
    both = [_of_both(r, errors.own) for r in errors.pairs.get(part, (0.0, 0.0))]
    alone = [math.sqrt(1 - share) for share in map(abs, both)]
    paired = [math.copysign(math.sqrt(abs(share)), share if side == TRAIL else 1.0) for share in both]
    step = math.floor(time / errors.lasts)
    angle = (time / errors.lasts - step) * math.pi / 2
    for knot, weight in ((step, math.cos(angle)), (step + 1, math.sin(angle))):
        when = f"about {knot * errors.lasts:.2f} s"
        if any(alone):
            across, down = _inputs(clip, seen.mark, seen.mark, when, knot)
            yield Common(across, down, (u * weight * alone[0], u * weight * alone[1]))
        if any(paired):
            across, down = _inputs(clip, part, f"both {part}s", when, knot)
            yield Common(across, down, (u * weight * paired[0], u * weight * paired[1]))


def _of_both(correlation: float, own: float) -> float:
    """The share of what lasts that both sides have, negative where they err oppositely, in -1..1."""
    return max(-1.0, min(1.0, correlation / (1 - own)))


def _side_and_part(mark: str) -> tuple[str, str]:
    side, _, part = mark.partition("-")
    return (side, part) if part in PAIRED else ("", mark)


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
