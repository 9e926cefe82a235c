"""What an author may write in a figure block, and the table of figure kinds."""

from __future__ import annotations

import math
import re
from collections import Counter
from collections.abc import Sequence as SequenceOf
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
    duration,
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


EVERY_RIGHT = "write how many frames, `2`, or how long, `0.02 s`"


def _every(value: Any) -> int | float:
    """From one picture to the next: a whole number of frames, or seconds. Raises InvalidValueError."""
    if node_of(value) is None and isinstance(value, int | float) and not isinstance(value, bool):
        return value
    text = written_text(value, "frames or a time", "2")
    if re.fullmatch(r"[0-9]{1,6}", text):
        every: int | float = int(text)
    else:
        try:
            every = duration(text)
        except InvalidValueError as wrong:
            raise InvalidValueError(f"`{text}` is neither frames nor a time", EVERY_RIGHT) from wrong
    if every <= 0:
        raise InvalidValueError(f"`{text}` goes no picture on", EVERY_RIGHT)
    return every


class StripFields(FigureFields):
    """Several pictures of one clip under one set of overlays: a list, a stretch, or both.

    every: from one picture of the stretch to the next, frames (int) or seconds (float).
    """

    frames: Annotated[
        tuple[InstantText, ...],
        Field(min_length=1, max_length=MOST_PICTURES, examples=["[setup, top, impact]"]),
    ] = ()
    start: Annotated[InstantText | None, Field(alias="from", examples=["top"])] = None
    end: Annotated[InstantText | None, Field(alias="to", examples=["impact"])] = None
    every: Annotated[Any, PlainValidator(_every)] = 1

    @model_validator(mode="after")
    def _which_pictures(self) -> Self:
        given = {"from": self.start, "to": self.end}
        missing = [key for key, value in given.items() if value is None and not self.lost(key)]
        if missing == ["from", "to"] and "every" in self.model_fields_set:
            raise InvalidValueError("`every` goes through a stretch", "write `from` and `to` as well")
        if len(missing) == 1:
            raise InvalidValueError("this strip says one end of its stretch", f"write `{missing[0]}` as well")
        if missing and not self.frames and not self.lost("frames"):
            right = "write `frames: [setup, top, impact]`, or `from`, `to` and `every`"
            raise InvalidValueError("this strip does not say which pictures", right)
        return self

    @property
    def shots(self) -> tuple[Shot, ...]:
        """The pictures it names.

        Measures end in ".top" by the event, in ".2" by position where there is none or it comes twice.
        """
        named: list[tuple[Instant, Loc]] = [(one, ("frames", at)) for at, one in enumerate(self.frames)]
        if self.start is not None and self.end is not None:
            named = [(self.start, ("from",)), *named, (self.end, ("to",))]
        suffixes = suffixes_of([instant.event if not instant.plus else None for instant, _ in named])
        return tuple(
            Shot(instant, loc, suffix=suffix) for (instant, loc), suffix in zip(named, suffixes, strict=True)
        )


def suffixes_of(events: SequenceOf[str | None]) -> tuple[str, ...]:
    """What the measures of a strip's pictures end in, by the event of each; None where it is none."""
    often = Counter(events)
    return tuple(
        f".{event if event and often[event] == 1 else number}" for number, event in enumerate(events, start=1)
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


MOST_MOMENTS = 4  # of a plan: more would be too small to read


class PlanFields(FigureFields):
    """A swing seen from above at a few instants, drawn from two views."""

    frames: Annotated[
        tuple[InstantText, ...],
        Field(min_length=1, max_length=MOST_MOMENTS, examples=["[setup, top, impact]"]),
    ]

    @model_validator(mode="after")
    def _nothing_of_a_picture(self) -> Self:
        for key in ("draw", "crop"):
            if key in self.model_fields_set:
                raise InvalidValueError(
                    f"a plan shows no picture, and `{key}` belongs to one", "leave it out"
                )
        return self

    @property
    def shots(self) -> tuple[Shot, ...]:
        return tuple(Shot(one, ("frames", at)) for at, one in enumerate(self.frames))


FIGURES: dict[str, type[FigureFields]] = {
    "loop": LoopFields,
    "frame": FrameFields,
    "strip": StripFields,
    "pair": PairFields,
    "progress": ProgressFields,
    "plan": PlanFields,
}
