"""Real time of each picture: from the file's timestamps, the card's `filmed_at`, and repeated pictures."""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Collection, Sequence
from dataclasses import dataclass
from itertools import pairwise
from statistics import median

import numpy as np

from lessonpress.footage.video.failure import FootageError

ROUNDS = 2  # of a beat that must be seen
FEWEST = 3  # captured pictures that show a pace
ROUNDING = 0.02  # of a picture's time: a file's times are whole milliseconds in some
Pieces = Sequence[tuple[int, float]]


def real_times(
    times: Sequence[float], filmed_at: float | Pieces | None = None, repeats: Collection[int] = ()
) -> tuple[float, ...]:
    """Real seconds since frame 0 at which each picture was taken.

    times: the file's, in seconds since frame 0. filmed_at: pictures taken in a second of real time, where the
    file plays slower than life, or ((frame, rate), …) from given frames on, the first of them 0; None where
    it plays at life's speed. repeats: frames that show the picture before again; they keep its time.

    With neither, real time is the file's. With repeats alone, a picture's time is its position among the
    captured ones, at their even pace: that of whole rounds where repeats come in a beat (of 24 pictures shown
    at 30, four in five), else the middle of the paces that the file's times allow. Where they allow none, a
    captured picture keeps its time in the file.
    With filmed_at, each captured picture follows the one before it by one over the rate that holds there; a
    picture that is missing, seen by a gap in the timestamps of a file without repeats, counts.
    Raises FootageError for a rate that is not above 0, or pieces that are out of order.
    """
    again = frozenset(repeats)
    if filmed_at is not None:
        starts, rates = _pieces(filmed_at)
        widths = [1.0] * len(times) if again else _widths(times, starts)
        return _paced(widths, starts, rates, again)
    if not again:
        return tuple(times)
    steps = _steps(len(times), again)
    pace = _pace(times, steps, again)
    if pace is None:
        return tuple(times[_shown_first(frame, again)] for frame in range(len(times)))
    return tuple(step * pace.seconds for step in steps)


def pace_within(
    times: Sequence[float], filmed_at: float | Pieces | None = None, repeats: Collection[int] = ()
) -> float | None:
    """How far off the pace of `real_times` may be, as a fraction of it (half-width); 0 where it is exact.

    None where repeated pictures leave the captured ones no even pace: times between them are not known then.
    """
    again = frozenset(repeats)
    if filmed_at is not None or not again:
        return 0.0
    pace = _pace(times, _steps(len(times), again), again)
    return None if pace is None else pace.within / pace.seconds


def _pieces(filmed_at: float | Pieces) -> tuple[list[int], list[float]]:
    pieces = [(0, float(filmed_at))] if isinstance(filmed_at, int | float) else list(filmed_at)
    starts, rates = [frame for frame, _ in pieces], [float(rate) for _, rate in pieces]
    if not starts or starts[0] != 0 or any(late <= early for early, late in pairwise(starts)):
        raise FootageError("the pieces of filmed_at do not follow each other", "begin at frame 0 and ascend")
    if min(rates) <= 0:
        raise FootageError("a rate of filmed_at is not above 0", "write pictures per second of real time")
    return starts, rates


def _widths(times: Sequence[float], starts: list[int]) -> list[float]:
    """Intervals from each picture to the next, in units of the usual one (median) of the piece it lies in."""
    widths: list[float] = []
    for start, end in pairwise([*starts, len(times) - 1]):
        gaps = [late - early for early, late in pairwise(times[start : end + 1])]
        usual = median(gaps) if gaps else 1.0
        widths.extend(gap / usual for gap in gaps)
    return [*widths, 1.0]


def _paced(
    widths: list[float], starts: list[int], rates: list[float], repeats: frozenset[int]
) -> tuple[float, ...]:
    """A captured picture's interval to the next captured one is that of the piece it lies in."""
    seconds = [0.0]
    interval = 0.0
    for frame in range(len(widths) - 1):
        if frame not in repeats or frame == 0:
            interval = widths[frame] / rates[bisect_right(starts, frame) - 1]
        seconds.append(seconds[-1] if frame + 1 in repeats else seconds[-1] + interval)
    return tuple(seconds)


@dataclass(frozen=True)
class Pace:
    """Seconds from one captured picture to the next, and by how much they may be off (half-width)."""

    seconds: float
    within: float


def _pace(times: Sequence[float], steps: list[int], again: frozenset[int]) -> Pace | None:
    """Counted over whole rounds of a beat, else between limits; None where there is no even pace.

    From the first picture to the last, a clip holds a broken round of its beat, by which the pace of a short
    one would be several per cent off.
    """
    beat = _beat(len(times), again)
    if beat:
        last = (len(times) - 1) // beat * beat
        captured = last // beat * (beat - sum(frame in again for frame in range(1, beat + 1)))
        return Pace(times[last] / captured, 0.0)
    return _pace_between(times, steps, again)


def _pace_between(times: Sequence[float], steps: list[int], again: frozenset[int]) -> Pace | None:
    """The paces at which every captured picture is shown within one picture's time of its capture.

    The time between two captures is then that between their showings to one picture's time of the file,
    whichever two: the limits are the closest of all pairs. Frame 0 is none of them, since it may show again
    what was shown before the file begins.
    """
    first = [frame for frame in range(1, len(times)) if frame not in again]
    if len(first) < FEWEST:
        return None
    shown, step = np.array(times)[first], np.array(steps)[first]
    late = float(np.median(np.diff(times))) * (1 + ROUNDING)
    early, later = np.triu_indices(len(first), 1)
    apart, gap = step[later] - step[early], shown[later] - shown[early]
    low, high = float(np.max((gap - late) / apart)), float(np.min((gap + late) / apart))
    return Pace((low + high) / 2, (high - low) / 2) if 0 < low <= high else None


def _shown_first(frame: int, again: frozenset[int]) -> int:
    """The frame of which this one is a repeat; itself where it is none."""
    while frame and frame in again:
        frame -= 1
    return frame


def _beat(count: int, again: frozenset[int]) -> int | None:
    """The least number of frames after which the pattern of repeats returns; None where it does not."""
    for length in range(2, (count - 1) // ROUNDS + 1):
        if all((frame in again) == (frame + length in again) for frame in range(1, count - length)):
            return length
    return None


def _steps(count: int, repeats: frozenset[int]) -> list[int]:
    """Each picture's position among the captured ones; frame 0 is captured whatever is said of it."""
    steps: list[int] = []
    for frame in range(count):
        steps.append(steps[-1] + (frame not in repeats) if steps else 0)
    return steps
