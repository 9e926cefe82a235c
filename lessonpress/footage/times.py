"""Real time of each picture: from the file's timestamps, the card's `filmed_at`, and repeated pictures."""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Collection, Sequence
from itertools import pairwise
from statistics import fmean, median

from lessonpress.footage.failure import FootageError

ROUNDS = 2  # of a beat that must be seen
Pieces = Sequence[tuple[int, float]]


def real_times(
    times: Sequence[float], filmed_at: float | Pieces | None = None, repeats: Collection[int] = ()
) -> tuple[float, ...]:
    """Real seconds since frame 0 at which each picture was taken.

    times: the file's, in seconds since frame 0. filmed_at: pictures taken in a second of real time, where the
    file plays slower than life, or ((frame, rate), …) from given frames on, the first of them 0; None where
    it plays at life's speed. repeats: frames that show the picture before again; they keep its time.

    With neither, real time is the file's. With repeats alone, a picture's time is its place among the
    captured ones, at their even pace: that of whole rounds where repeats come in a beat (of 24 pictures shown
    at 30, four in five), else that of the line nearest to the file's times.
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
    places = _places(len(times), again)
    pace = _pace(times, places, again)
    return tuple(place * pace for place in places)


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
    found = [0.0]
    interval = 0.0
    for frame in range(len(widths) - 1):
        if frame not in repeats or frame == 0:
            interval = widths[frame] / rates[bisect_right(starts, frame) - 1]
        found.append(found[-1] if frame + 1 in repeats else found[-1] + interval)
    return tuple(found)


def _pace(times: Sequence[float], places: list[int], again: frozenset[int]) -> float:
    """Seconds from one captured picture to the next.

    Counted over whole rounds of a beat: from the first picture to the last, a clip holds a broken round, by
    which the pace of a short one would be several per cent off.
    """
    beat = _beat(len(times), again)
    if beat:
        last = (len(times) - 1) // beat * beat
        return times[last] / (last // beat * (beat - sum(frame in again for frame in range(1, beat + 1))))
    captured = [frame for frame in range(len(times)) if frame == 0 or frame not in again]
    middle, usual = fmean(places[frame] for frame in captured), fmean(times[frame] for frame in captured)
    spread = sum((places[frame] - middle) ** 2 for frame in captured)
    together = sum((places[frame] - middle) * (times[frame] - usual) for frame in captured)
    return together / spread if spread else 0.0


def _beat(count: int, again: frozenset[int]) -> int | None:
    """The least number of frames after which the pattern of repeats returns; None where it does not."""
    for length in range(2, (count - 1) // ROUNDS + 1):
        if all((frame in again) == (frame + length in again) for frame in range(1, count - length)):
            return length
    return None


def _places(count: int, repeats: frozenset[int]) -> list[int]:
    """Each picture's place among the captured ones; frame 0 is captured whatever is said of it."""
    places: list[int] = []
    for frame in range(count):
        places.append(places[-1] + (frame not in repeats) if places else 0)
    return places
