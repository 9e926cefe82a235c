"""`path: m`, the path a mark has gone `from` an instant `to` another, and how long it is."""

from __future__ import annotations

from collections.abc import Hashable, Sequence
from itertools import pairwise

from lessonpress.manuscript import MarkName
from lessonpress.measure import At, Measured, Refusal
from lessonpress.overlays.kind import Outcome
from lessonpress.overlays.parts.context import Context
from lessonpress.overlays.parts.fields import IN_SPACE, SeenIn
from lessonpress.overlays.parts.motion import StretchFields, seen, stretch, stretch_words
from lessonpress.overlays.parts.numbers import amount
from lessonpress.overlays.parts.pens import colour_of, pen_of, tag_of
from lessonpress.overlays.parts.plane import length
from lessonpress.overlays.shapes import Shape, SignAt, Stroke
from lessonpress.records import Point

KIND = "path"

BEAD_GAP = 0.02  # of the crop's width: beads lie at least so far apart on the whole, evenly in time
EVERY = (1, 2, 5, 10, 20, 50)  # frames from bead to bead


class Fields(StretchFields):
    KEY = KIND
    COUNT = (1, 1)
    EXAMPLE = "path: implement-head"
    LETTER = "g"
    DIMENSION = "length"

    path: MarkName
    seen_in: SeenIn = "picture"

    @property
    def identity(self) -> tuple[Hashable, ...]:
        return (*super().identity, self.seen_in)

    @property
    def marks(self) -> tuple[str, ...]:
        return (self.path,)


def needed(fields: Fields, context: Context) -> tuple[At, ...]:
    first, last = stretch(fields, context)
    return At(fields.path, first), At(fields.path, last)


def measure(fields: Fields, context: Context) -> Measured | Refusal:
    return context.survey.path(fields.path, *stretch(fields, context), space=fields.seen_in == "space")


def shapes(fields: Fields, context: Context, measured: Outcome) -> tuple[Shape, ...]:
    """The chords between the places measured, and beads on them, evenly in time."""
    places = _places(fields, context)
    colour = colour_of(fields, "purple")
    return (
        Stroke(places, pen_of(fields, "purple", 2.0)),
        *(SignAt("bead", bead, colour) for bead in places[:: _every(places, context)]),
        tag_of(fields, context, measured, places[-1], "purple"),
    )


def _places(fields: Fields, context: Context) -> tuple[Point, ...]:
    return tuple(context.place_of(at) for at in seen(context, fields.path, *stretch(fields, context)))


def _every(places: Sequence[Point], context: Context) -> int:
    """How many measured frames from one bead to the next, so that on the whole they lie apart."""
    gap = sum(length(*pair) for pair in pairwise(places)) / max(1, len(places) - 1)
    return next((every for every in EVERY if every * gap >= BEAD_GAP * context.crop_width), EVERY[-1])


def name(fields: Fields, context: Context) -> str:
    space = IN_SPACE if fields.seen_in == "space" else ""
    return f"Path of {context.words.the(fields.path)} {stretch_words(fields)}{space}"


def sentence(fields: Fields, context: Context, measured: Outcome) -> str:
    the, words = context.words.the(fields.path), stretch_words(fields)
    words += IN_SPACE if fields.seen_in == "space" else ""
    if not isinstance(measured, Measured):
        return f"The length of the path of {the} {words} is not measured"
    beads = _every(_places(fields, context), context)
    spacing = "every measured frame" if beads == 1 else f"one measured frame in {beads}"
    number = amount(measured, context.units)
    return f"The path of {the} {words} is {number} long, with a bead at {spacing}"
