"""A mark's speed at a frame."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from itertools import pairwise

import numpy as np

from lessonpress.measure.evaluation import Measurand, evaluate, refuse_too_short
from lessonpress.measure.formulas.arrays import FloatArray
from lessonpress.measure.formulas.savitzky_golay import reading, weights
from lessonpress.measure.inputs.setting import At
from lessonpress.measure.kinds.blur import Blur
from lessonpress.measure.kinds.seen import PLANE, check_seen_along
from lessonpress.measure.scene import Scene
from lessonpress.measure.uncertainty.measured import Measured
from lessonpress.measure.uncertainty.propagation import Values
from lessonpress.measure.uncertainty.quantities import Quantity, limited
from lessonpress.measure.uncertainty.refusal import RefusedError

PLACES = 5
PARABOLA_TO = 10.0  # deg of turn between places
QUARTIC_TO = 20.0
MOST_GAP = 3  # frames between neighbouring places
DEPTH_REACH = 0.05  # s each way, over which a mark's own depth runs straight
READOUT_WITHIN = 0.05  # of a stated readout


@dataclass(frozen=True)
class Window:
    """The places a speed is read from; at: which of them is asked for; turn: deg between places."""

    points: tuple[At, ...]
    at: int
    span: tuple[int, int]
    turn: float
    degree: int


def speed(scene: Scene, at: At, *, space: bool = False) -> Measured:
    """Speed in the subject plane, or in space, m/s, ≥ 0: the derivative of a polynomial through five places.

    A parabola to 10° of turn between places, a quartic to 20°; what it reads too low on a circle is put right
    and is in the budget as a limit. Places on the other side of impact are never used: at a track's end the
    window is one-sided and the ± says what that costs. Refuses without times or scale, with fewer than five
    places, with more turn, where the mark smears too far (see `blur`), and a speed of under four times its
    crosswise uncertainty. A place's time is its picture's, plus the readout times its height's share since a
    camera reads from top to bottom, plus where in its streak the mark is placed. The speed is that at the
    middle of the picture's exposure. Source: Savitzky and Golay 1964.
    """
    scene.check_lengths()
    scene.check_times()
    window = _window(scene, at, space=space)
    scene.check_points(window.points)
    bent = _bend(scene, at, window)
    readout = _readout(scene)
    heights = [scene.observations.best(point)[1] / scene.setting.size[1] for point in window.points]
    own = [scene.depths.time(point.frame) for point in window.points]
    blur, pace = Blur(scene), _pace(scene)

    def velocity(values: Values) -> tuple[FloatArray, ...]:
        placed = _places(scene, window.points, values, window.span, space=space)
        read = np.stack([t * values[pace] + values[readout] * h for t, h in zip(own, heights, strict=True)])
        late = np.stack([blur.late(point, values) for point in window.points])
        derivative = weights(read + late - read[window.at], window.degree, 1)
        return tuple((derivative * np.stack(one)).sum(axis=0) for one in zip(*placed, strict=True))

    blur.check(at.mark, float(_size(velocity(scene.best)[:2])[0]))

    def model(values: Values) -> FloatArray:
        return np.asarray(_size(velocity(values)) / values[bent])

    def worked(value: float) -> str:
        parts = " + ".join(f"({float(part[0]):.2f})²" for part in velocity(scene.best))
        return f"√({parts}) m/s ÷ {bent.value:.3f} = {value:.2f} m/s".replace("-", "−")

    nothing = np.zeros(1)
    refuse_too_short(
        lambda values: ((nothing, nothing), _longest_two(velocity(values))),
        scene,
        lambda value: f"{value:.2f} m/s",
        "measure how far it moves between two instants instead",
    )
    formula = f"|dP/dt|, polynomial of degree {window.degree} through {PLACES} places"
    found = evaluate(scene, Measurand(model, "speed", window.points, formula, worked, marks=(at.mark,)))
    return replace(found, plane=PLANE) if space else found


def _places(
    scene: Scene, points: tuple[At, ...], values: Values, span: tuple[int, int], *, space: bool
) -> list[tuple[FloatArray, ...]]:
    """Of each: level and up, and in space toward the camera, m."""
    if space:
        return [scene.in_space(point, values, span) for point in points]
    return [*scene.placed(values, points, span=span)]


def _size(parts: tuple[FloatArray, ...]) -> FloatArray:
    return np.asarray(np.sqrt(sum(part**2 for part in parts)))


def _longest_two(velocity: tuple[FloatArray, ...]) -> tuple[FloatArray, FloatArray]:
    """Up, and what goes level: in space both level parts together, which err upward alone near nothing."""
    if len(velocity) == 2:
        return velocity[0], velocity[1]
    return np.asarray(np.hypot(velocity[0], velocity[2])), velocity[1]


def _window(scene: Scene, at: At, *, space: bool) -> Window:
    frames = _side(scene, at)
    if at.frame not in frames:
        raise RefusedError(
            f"{at.mark} is not marked on frame {at.frame}", f"track {at.mark} through frame {at.frame}"
        )
    index = frames.index(at.frame)
    first = min(max(0, index - PLACES // 2), max(0, len(frames) - PLACES))
    chosen = frames[first : first + PLACES]
    gap = max((b - a for a, b in pairwise(chosen)), default=0)
    if len(chosen) < PLACES or gap > MOST_GAP:
        raise RefusedError(
            f"too few places of {at.mark} next to frame {at.frame}: a speed needs five, close together",
            f"track {at.mark} over five frames or more on this side of impact",
        )
    points = tuple(At(at.mark, frame) for frame in chosen)
    measurand = chosen.index(at.frame)
    span = (chosen[0], chosen[-1]) if space else _depth_span(scene, at.frame, chosen)
    if space:
        check_seen_along(scene, at.mark, span)
    turn = _turn(_places(scene, points, scene.best, span, space=space))
    if turn > QUARTIC_TO:
        raise RefusedError(
            f"{at.mark} turns by {turn:.0f}° from picture to picture, too much for a speed",
            "film at more pictures per second",
        )
    return Window(points, measurand, span, turn, 2 if turn <= PARABOLA_TO else 4)


def _side(scene: Scene, at: At) -> list[int]:
    """Frames with a place of the mark, each at a new time, on this side of impact."""
    impact = scene.setting.impact
    times = scene.setting.times or ()
    first, last = 0, len(times) - 1
    if impact is not None:
        first, last = (first, min(impact, last)) if at.frame <= impact else (impact, last)
    frames: list[int] = []
    for frame in scene.tracked(at.mark, first, last):
        if not frames or times[frame] > times[frames[-1]]:
            frames.append(frame)
    return frames


def _depth_span(scene: Scene, frame: int, chosen: list[int]) -> tuple[int, int]:
    """The frames over which the mark's own depth runs straight: a tenth of a second about the one asked for.

    About as long as a downswing brings an implement from deepest to nearest. A span as short as the window
    would let depth run faster than any body does.
    """
    times = np.array(scene.setting.times)
    near = np.flatnonzero(np.abs(times - times[frame]) <= DEPTH_REACH)
    return min(int(near[0]), chosen[0]), max(int(near[-1]), chosen[-1])


def _turn(placed: list[tuple[FloatArray, ...]]) -> float:
    """Turn of the direction of travel between places, deg, at the window's middle: |v × a| Δt / v²."""
    columns = np.zeros((len(placed), 3))
    for row, place in zip(columns, placed, strict=True):
        row[: len(place)] = [float(part[0]) for part in place]
    places = np.arange(len(placed), dtype=np.float64) - (len(placed) - 1) / 2
    v, a = weights(places, 2, 1) @ columns, weights(places, 2, 2) @ columns
    square = float(v @ v)
    return math.degrees(float(np.linalg.norm(np.cross(v, a))) / square) if square else math.inf


def _bend(scene: Scene, at: At, window: Window) -> Quantity:
    """The input for what the polynomial reads of a circle's speed, as far from 1 again either way."""
    places = np.arange(len(window.points), dtype=np.float64) - window.at
    read = reading(math.radians(window.turn), places, window.degree)
    name = f"{scene.setting.clip}/bend/{at.mark}/{at.frame}"
    words = f"bend of the path between places, {window.turn:.0f}° each"
    return limited(name, words, read, abs(1 - read), "")


def _pace(scene: Scene) -> Quantity:
    """The input for by what factor the times run, 1 where the pace of the pictures is exact."""
    name, within = f"{scene.setting.clip}/pace", scene.setting.pace_within or 0.0
    assumption = "pictures captured at an even pace, some of them shown again" if within else ""
    return limited(name, "pace of the captured pictures", 1.0, within, "", assumption)


def _readout(scene: Scene) -> Quantity:
    """The input for the time the camera takes from the first row to the last, s."""
    name = f"{scene.setting.clip}/readout"
    stated = scene.setting.readout
    words = "time to read a picture from top to bottom"
    if stated is not None:
        return limited(name, words, stated, READOUT_WITHIN * stated, "s")
    frame_time = scene.frame_time
    half = frame_time / 2
    assumption = f"readout from 0 to one picture's time, {1000 * frame_time:.1f} ms"
    return limited(name, words, half, half, "s", assumption)
