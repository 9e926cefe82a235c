"""One placing made of many clicks on the same point."""

from __future__ import annotations

import math
from collections.abc import Sequence
from statistics import mean, stdev

from lessonpress.measure import LEAST_CLICK_U

ENOUGH_CLICKS = 3  # from so many on, their spread is worth more than the usual error of a click

# x, y and, where it is known, u, px; behind that of a suggestion that was accepted as it was, the word
Placing = tuple[float | str, ...]


def placing_of(clicks: Sequence[tuple[float, float]]) -> Placing:
    """Where a mark is that was clicked so often: the mean; from three clicks on with its uncertainty.

    u: the standard deviation of one click, each axis, both axes' variances averaged, and never under half a
    px: a person who clicks again looks at the same picture with the same idea of where the point is.
    Source: JCGM 100:2008, 4.2.2, the experimental standard deviation of one observation.
    """
    x, y = mean(click[0] for click in clicks), mean(click[1] for click in clicks)
    if len(clicks) < ENOUGH_CLICKS:
        return rounded((x, y))
    spread = math.sqrt(
        mean((stdev(click[0] for click in clicks) ** 2, stdev(click[1] for click in clicks) ** 2))
    )
    return rounded((x, y, max(LEAST_CLICK_U, spread)))


def rounded(placing: Placing) -> Placing:
    """A placing as marks.yaml keeps it, to a hundredth of a px."""
    return tuple(number if isinstance(number, str) else round(number, 2) for number in placing)
