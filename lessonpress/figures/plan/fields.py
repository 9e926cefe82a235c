"""What an author may write in a figure block, and the table of figure kinds."""

from __future__ import annotations

import math
from collections import Counter
from dataclasses import dataclass
from typing import Annotated, Any, Literal, Self

from pydantic import Field, PlainValidator, model_validator

from lessonpress.manuscript import (
    Id,
    InstantText,
    InvalidValueError,
    Node,
    Sequence,
    Text,
    Written,
    YesNo,
    node_of,
    written_text,
)
from lessonpress.records import Instant

Cut = Literal["auto", "whole"] | tuple[float, float, float, float]
LEAST_CUT = 1.0  # px: pictures are cut on whole ones
CUT_RIGHT = "write `auto`, `whole` or `[left, top, right, bottom]` in px"


def _cut(value: Any) -> Cut:
    """`auto`, `whole` or `[left, top, right, bottom]` in px of the picture. Raises InvalidValueError."""
    if isinstance(value, tuple):
        return value
    if not isinstance(value, list):
        word = written_text(value, "a crop", "auto")
        if word == "auto" or word == "whole":
            return "auto" if word == "auto" else "whole"
        raise InvalidValueError(f"`{word}` is not a crop", CUT_RIGHT)
    if len(value) != 4 or any(isinstance(n, bool) or not isinstance(n, int | float) for n in value):
        raise InvalidValueError("a crop has four numbers", CUT_RIGHT)
    left, top, right, bottom = (float(n) for n in value)
    held = all(map(math.isfinite, (left, top, right, bottom))) and min(left, top) >= 0
    if not held or right - left < LEAST_CUT or bottom - top < LEAST_CUT:
        raise InvalidValueError(
            "this crop holds no picture", "left is less than right, top less than bottom, none below 0"
        )
    return (left, top, right, bottom)


def _entries(value: Any) -> tuple[Node, ...]:
    """The nodes of a list of overlays, read by their kinds later. Raises InvalidValueError."""
    if isinstance(value, tuple):
        return value
    node = node_of(value)
    if not isinstance(node, Sequence):
        raise InvalidValueError(
            "`draw` takes a list of overlays", "begin each with `- `, as in `- vertical: navel`"
        )
    return node.items


Loc = tuple[str | int, ...]  # a path of keys and indices to where something is written


@dataclass(frozen=True)
class Shot:
    """One picture that a figure asks for. clip: None for the figure's own. suffix: of its measures' ids."""

    instant: Instant
    loc: Loc
    clip: str | None = None
    clip_loc: Loc = ()
    mirrored: bool = False
    suffix: str = ""


class FigureFields(Written):
    """Keys that all figures of pictures share. draw: overlays as nodes, whose kinds read them."""

    id: Id | None = None
    clip: Text | None = None
    caption: Text | None = None
    alt: Text | None = None
    crop: Annotated[Any, PlainValidator(_cut)] = "auto"
    mirrored: YesNo = False
    draw: Annotated[tuple[Any, ...], PlainValidator(_entries)] = ()

    @property
    def shots(self) -> tuple[Shot, ...]:
        """The pictures of its panels in order."""
        return ()


MOST_PICTURES = 60  # of a strip: two seconds at thirty a second; each is a diagram of its own, too


class FrameFields(FigureFields):
    """One picture."""

    at: InstantText = Field(examples=["impact"])

    @property
    def shots(self) -> tuple[Shot, ...]:
        return (Shot(self.at, ("at",)),)


class StripFields(FigureFields):
    """Several pictures of one clip under one set of overlays."""

    frames: Annotated[
        tuple[InstantText, ...],
        Field(min_length=1, max_length=MOST_PICTURES, examples=["[setup, top, impact]"]),
    ]

    @property
    def shots(self) -> tuple[Shot, ...]:
        """Measures end in ".top" by the event, in ".2" by position where there is none or it comes twice."""
        events = [instant.event if not instant.plus else None for instant in self.frames]
        often = Counter(events)
        return tuple(
            Shot(
                instant, ("frames", number), suffix=f".{event if event and often[event] == 1 else number + 1}"
            )
            for number, (instant, event) in enumerate(zip(self.frames, events, strict=True))
        )


class PairSide(Written):
    """One side of a pair. clip, at: those of the figure where the side has none of its own."""

    clip: Text | None = None
    at: InstantText | None = None
    mirrored: YesNo = False


class PairFields(FigureFields):
    """Two pictures of one clip or of two at one scale, with what differs between them."""

    of: tuple[PairSide, PairSide] = Field(
        examples=["[{clip: dune, at: impact}, {clip: shingle, at: impact}]"]
    )
    at: InstantText | None = None

    @model_validator(mode="after")
    def _say_when(self) -> Self:
        if self.at is None and any(entry.at is None for entry in self.of):
            raise InvalidValueError(
                "this pair does not say when", "write `at: impact` in the pair or in both its sides"
            )
        return self

    @property
    def shots(self) -> tuple[Shot, ...]:
        return tuple(
            Shot(
                entry.at or self.at or Instant("setup", event="setup"),
                ("of", number, "at") if entry.at else ("at",),
                entry.clip,
                ("of", number, "clip"),
                entry.mirrored,
                suffix,
            )
            for number, (entry, suffix) in enumerate(zip(self.of, (".first", ".second"), strict=True))
        )


class LoopFields(FigureFields):
    """A stretch of a clip played round and round, slower than life; its overlays are drawn, not measured."""

    start: Annotated[InstantText, Field(alias="from", examples=["top"])]
    end: Annotated[InstantText, Field(alias="to", examples=["impact"])]
    slowed: Annotated[float, Field(ge=1, le=100)] = 4.0

    @property
    def shots(self) -> tuple[Shot, ...]:
        return Shot(self.start, ("from",)), Shot(self.end, ("to",))


class ProgressFields(FigureFields):
    """One measure over time: of several lessons by its id, or of several clips by one overlay."""

    measure: Annotated[str | None, Field(pattern=r"^[a-z][a-z0-9.-]*$")] = None
    over: tuple[Text, ...] = ()
    at: InstantText | None = None
    clips: tuple[Text, ...] = ()

    @model_validator(mode="after")
    def _one_of_two(self) -> Self:
        over_lessons, over_clips = self.measure is not None, self.at is not None
        right = "write `measure: ID` and `over: [LESSON, …]`, or `at`, `clips: [CLIP, …]` and one overlay"
        if over_lessons == over_clips:
            raise InvalidValueError("this progress does not say what to follow", right)
        if over_lessons and (not self.over or self.clips or self.draw):
            raise InvalidValueError("a measure is followed over lessons", right)
        if over_clips and (not self.clips or self.over or len(self.draw) != 1):
            raise InvalidValueError("clips are followed by one overlay", right)
        return self

    @property
    def shots(self) -> tuple[Shot, ...]:
        if self.at is None:
            return ()
        return tuple(
            Shot(self.at, ("at",), clip, ("clips", number), suffix=f".{clip}")
            for number, clip in enumerate(self.clips)
        )


FIGURES: dict[str, type[FigureFields]] = {
    "loop": LoopFields,
    "frame": FrameFields,
    "strip": StripFields,
    "pair": PairFields,
    "progress": ProgressFields,
}
