"""`speed: m`, how fast a mark moves at the figure's frame, and which way."""

from __future__ import annotations

from lessonpress.manuscript.fieldtypes import MarkName
from lessonpress.measure import At, Measured, Refusal
from lessonpress.overlays.fields import OverlayFields
from lessonpress.overlays.kind import Outcome
from lessonpress.overlays.marks import needed_marks, places
from lessonpress.overlays.numbers import amount
from lessonpress.overlays.pens import colour_of, layer_of, pen_of, tag_of
from lessonpress.overlays.plane import heading, toward
from lessonpress.overlays.shapes import Point, Shape, SignAt, Stroke
from lessonpress.overlays.stage import Stage
from lessonpress.overlays.tenses import with_placed

KIND = "speed"
MEASURES = True

SHOWN = 0.010  # s: the arrow is as long as the path of the mark in this time


class Fields(OverlayFields):
    KEY = KIND
    COUNT = (1, 1)
    EXAMPLE = "speed: implement-head"
    DIMENSION = "speed"

    speed: MarkName

    @property
    def marks(self) -> tuple[str, ...]:
        return (self.speed,)


needed = needed_marks


def measure(fields: Fields, stage: Stage) -> Measured | Refusal:
    (at,) = needed(fields, stage)
    return stage.survey.speed(at)


def shapes(fields: Fields, stage: Stage, measured: Outcome) -> tuple[Shape, ...]:
    """A bead on the mark; with a number, an arrow in its direction, to scale."""
    (mark,) = places(fields, stage)
    colour = colour_of(fields, "purple")
    tip = _tip(fields, stage, measured, mark)
    if tip is None:
        return (SignAt("bead", mark, colour), tag_of(fields, stage, measured, mark, "purple"))
    return (
        Stroke((mark, tip), pen_of(fields, "purple", 2.0), layer_of(fields)),
        SignAt("bead", mark, colour),
        SignAt("barb", tip, colour, heading(mark, tip)),
        tag_of(fields, stage, measured, tip, "purple"),
    )


def _tip(fields: Fields, stage: Stage, measured: Outcome, mark: Point) -> Point | None:
    """Where the arrow ends; None where its length is not known."""
    scale = stage.px_per_metre(fields.speed, fields.placed)
    if not isinstance(measured, Measured) or scale is None:
        return None
    before, after = _neighbours(measured.frames, stage.frame_at(fields.placed))
    way = heading(stage.place_of(At(fields.speed, before)), stage.place_of(At(fields.speed, after)))
    return toward(mark, way, measured.value * SHOWN * scale)


def _neighbours(frames: tuple[int, ...], frame: int) -> tuple[int, int]:
    """The frames before and after one of those measured; itself at an end, so that impact is not crossed."""
    index = frames.index(frame)
    return frames[max(0, index - 1)], frames[min(len(frames) - 1, index + 1)]


def name(fields: Fields, stage: Stage) -> str:
    return with_placed(f"Speed of {stage.words.the(fields.speed)}", fields.placed, ", ")


def sentence(fields: Fields, stage: Stage, measured: Outcome) -> str:
    the = stage.words.the(fields.speed)
    if not isinstance(measured, Measured):
        return with_placed(f"The speed of {the} is not measured", fields.placed)
    return with_placed(f"The speed of {the} is {amount(measured, stage.units)}", fields.placed)
