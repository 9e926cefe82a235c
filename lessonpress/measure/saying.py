"""Whether a number says anything: one whose 95 % interval spans all that it could be does not."""

from __future__ import annotations

from lessonpress.measure.measured import Measured
from lessonpress.records.measure import Dimension

# the whole range of a number, in its inner unit: inside angles run from 0° to 180°, tilts from −90° to 90°,
# directions once round, a share from 0 % to 100 %. Speeds and ratios have no end of their own.
WHOLE: dict[Dimension, float] = {"angle": 180.0, "clock": 360.0, "percent": 100.0}


def says_nothing(found: Measured, picture: float | None) -> bool:
    """Whether the interval low..high is at least as wide as the whole range.

    picture: the longer side of the picture on the subject plane, m, which is the whole range of a length: all
    that is marked lies in it. None where lengths have no scale.
    """
    whole = picture if found.dimension == "length" else WHOLE.get(found.dimension)
    return whole is not None and found.high - found.low >= whole


def largest_part(found: Measured) -> tuple[str, float] | None:
    """The input that brings most of the ± and its share of the variance in 0..1; None without any."""
    first = next(iter(found.budget.shares), None)
    return None if first is None else (first.words, first.share)
