"""Where marks lie on the floor plan of a swing, with the ellipse in which each lies."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator
from dataclasses import dataclass

import numpy as np

from lessonpress.measure.formulas import geometry
from lessonpress.measure.formulas.arrays import FloatArray, Pair
from lessonpress.measure.inputs.setting import At
from lessonpress.measure.kinds.seen import check_seen
from lessonpress.measure.scene import Scene
from lessonpress.measure.second.agreement import derivatives
from lessonpress.measure.second.crossed import SQUARE_U
from lessonpress.measure.uncertainty.propagation import Values
from lessonpress.measure.uncertainty.quantities import Quantity
from lessonpress.measure.uncertainty.refusal import RefusedError

# of a point in two directions: the root of the 95 % point of χ² with two degrees of freedom, −2 ln 0.05
COVERING = math.sqrt(-2 * math.log(0.05))
WIDEST = 0.2  # m: of an ellipse's longer half; a mark that is known worse has no place on a plan
FEET = ("ankle", "heel", "toe")


@dataclass(frozen=True)
class Spot:
    """A mark on the plan, m from the middle of the feet. at: toward the target, and toward the ball.

    ellipse: its longer and its shorter half, m, and how far the longer lies from the target line toward the
    ball, deg; it holds the mark in 95 of 100 cases.
    """

    mark: str
    at: tuple[float, float]
    ellipse: tuple[float, float, float]


def plan(scene: Scene, marks: Iterable[str], frame: int, base: int) -> tuple[Spot, ...]:
    """The marks of a frame as they stand about the middle of the feet of frame `base`, seen from above.

    Those that are not placed, or not known to some eight inches, are left out. Refuses without a second view,
    and without a pair of ankles, heels or toes on `base`. The covariance of a point's two coordinates is by
    first order, and the ellipse the joint region of both.
    Source: JCGM 102:2011, 6.2 and 6.5.3 (elliptical coverage region of a bivariate normal quantity).
    """
    check_seen(scene, ())
    feet = _feet(scene, base)
    scene.check_points(feet)
    placed = [mark for mark in marks if _placed(scene, At(mark, frame))]
    return tuple(_spots(scene, [At(mark, frame) for mark in placed], feet))


def _feet(scene: Scene, frame: int) -> tuple[At, At]:
    for part in FEET:
        both = At(f"trail-{part}", frame), At(f"lead-{part}", frame)
        if all(_placed(scene, at) for at in both):
            return both
    raise RefusedError(
        f"a plan stands about the feet, and neither both ankles nor both heels are placed on frame {frame}",
        "place trail-ankle and lead-ankle there",
    )


def _placed(scene: Scene, at: At) -> bool:
    return at.frame in scene.observations.by_mark.get(at.mark, {})


def _spots(scene: Scene, ats: list[At], feet: tuple[At, At]) -> Iterator[Spot]:
    def rows(values: Values) -> list[FloatArray]:
        middle = geometry.mean([_seen(scene, at, values) for at in feet])
        off = values[_square(scene)]
        turned = [_turned(geometry.apart(middle, _seen(scene, at, values)), off) for at in ats]
        return [part for place in turned for part in place]

    if not ats:
        return
    best, _, half = derivatives(rows)
    for number, at in enumerate(ats):
        pair = slice(2 * number, 2 * number + 2)
        sizes, ways = np.linalg.eigh(half[pair] @ half[pair].T)
        short, long = (COVERING * math.sqrt(max(float(size), 0.0)) for size in sizes)
        if long <= WIDEST:
            turned = math.degrees(math.atan2(float(ways[1, 1]), float(ways[0, 1])))
            yield Spot(at.mark, (float(best[pair][0]), float(best[pair][1])), (long, short, turned))


def _square(scene: Scene) -> Quantity:
    """The input for how far from square to the target line the camera looked, rad."""
    clip, degrees = scene.setting.clip, math.degrees(SQUARE_U)
    words = f"how square {clip} was filmed to the target line"
    assumption = f"filmed square to the target line, u {degrees:.0f}°"
    return Quantity(f"{clip}/square/target", words, 0.0, SQUARE_U, "rad", assumption=assumption)


def _turned(place: Pair, off: FloatArray) -> Pair:
    x, z = place
    return np.asarray(x * np.cos(off) - z * np.sin(off)), np.asarray(x * np.sin(off) + z * np.cos(off))


def _seen(scene: Scene, at: At, values: Values) -> Pair:
    level, _, toward = scene.in_space(at, values)
    return scene.on_the_floor(level, toward)
