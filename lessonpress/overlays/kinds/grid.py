"""`grid`, crosses on the subject plane, level and plumb, `every` so far apart from the picture's middle."""

from __future__ import annotations

from collections.abc import Iterator
from math import ceil
from typing import Annotated

from pydantic import AfterValidator

from lessonpress.manuscript import InvalidValueError, LengthText
from lessonpress.measure import At
from lessonpress.overlays.kind import Outcome
from lessonpress.overlays.parts.context import Context
from lessonpress.overlays.parts.fields import OverlayFields
from lessonpress.overlays.parts.numbers import written_length
from lessonpress.overlays.parts.pens import colour_of, tag_of
from lessonpress.overlays.parts.plane import Line, crossing, heading, toward
from lessonpress.overlays.parts.unmeasured import lettered, measure_nothing
from lessonpress.overlays.shapes import Shape, SignAt
from lessonpress.records import METRES_PER_INCH, Length, Point

KIND = "grid"

CROSS = 9.0  # CSS px
NARROWEST = Length(3 * METRES_PER_INCH, "3 in")  # crosses any closer would hide the picture
USUAL = {"in": Length(12 * METRES_PER_INCH, "12 in"), "cm": Length(0.30, "30 cm")}


def _wide_enough(every: Length) -> Length:
    if every.metres < NARROWEST.metres:
        raise InvalidValueError(f"crosses `{every}` apart would hide the picture", f"at least {NARROWEST}")
    return every


class Fields(OverlayFields):
    KEY = KIND
    COUNT = (0, 0)
    EXAMPLE = "grid"
    LETTER = "i"
    PLACED = False

    grid: None = None
    every: Annotated[LengthText, AfterValidator(_wide_enough)] | None = None

    @property
    def needs_scale(self) -> bool:
        return True


def needed(fields: Fields, context: Context) -> tuple[At, ...]:
    return ()


measure = measure_nothing


def shapes(fields: Fields, context: Context, measured: Outcome) -> tuple[Shape, ...]:
    """The crosses that lie in the crop; none where the clip has no scale."""
    colour = colour_of(fields, "black")
    crosses = tuple(_crosses(fields, context))
    tags = (tag_of(fields, context, measured, crosses[-1], "black"),) if crosses else ()
    return (*(SignAt("cross", at, colour, size=CROSS, layer="band") for at in crosses), *tags)


def _crosses(fields: Fields, context: Context) -> Iterator[Point]:
    """Where the plane's plumb lines cross its level lines, an even step apart both ways."""
    scale = context.survey.px_per_metre()
    if scale is None:
        return
    middle = context.size[0] / 2, context.size[1] / 2
    step = _every(fields, context).metres * scale
    columns = [
        context.plumb_piece(at) for at in _steps(context.level_piece(middle), middle, step, context.size[0])
    ]
    rows = [
        context.level_piece(at) for at in _steps(context.plumb_piece(middle), middle, step, context.size[1])
    ]
    left, top, right, bottom = context.crop
    for column in columns:
        for row in rows:
            at = crossing(column, row)
            if at is not None and left <= at[0] <= right and top <= at[1] <= bottom:
                yield at


def _steps(line: Line, middle: Point, step: float, reach: float) -> list[Point]:
    """Points an even step apart along a line through the middle, one more than the picture has room for."""
    most = ceil(reach / 2 / step) + 1
    return [toward(middle, heading(*line), step * number) for number in range(-most, most + 1)]


def _every(fields: Fields, context: Context) -> Length:
    return USUAL[context.site_units or context.units] if fields.every is None else fields.every


def name(fields: Fields, context: Context) -> str:
    return f"Grid, {written_length(_every(fields, context), context)}"


def sentence(fields: Fields, context: Context, measured: Outcome) -> str:
    every = written_length(_every(fields, context), context)
    return lettered(f"Crosses mark every {every} of the plane through the feet that faces the camera", fields)
