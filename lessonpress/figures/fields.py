"""What an author may write in a figure block, and the table of figure kinds."""

from __future__ import annotations

from typing import Annotated, Any, Literal

from pydantic import Field, PlainValidator

from lessonpress.manuscript.fieldtypes import Id, InstantText, Text, YesNo, written_text
from lessonpress.manuscript.nodes import Node, Sequence
from lessonpress.manuscript.written import Written, node_of
from lessonpress.manuscript.wrong import WrongError
from lessonpress.records.instant import Instant

Cut = Literal["auto", "whole"] | tuple[float, float, float, float]
CUT_RIGHT = "write `auto`, `whole` or `[left, top, right, bottom]` in px"


def _cut(value: Any) -> Cut:
    """`auto`, `whole` or `[left, top, right, bottom]` in px of the picture. Raises WrongError."""
    if isinstance(value, tuple):
        return value
    if not isinstance(value, list):
        word = written_text(value, "a crop", "auto")
        if word == "auto" or word == "whole":
            return "auto" if word == "auto" else "whole"
        raise WrongError(f"`{word}` is no crop", CUT_RIGHT)
    if len(value) != 4 or any(isinstance(n, bool) or not isinstance(n, int | float) for n in value):
        raise WrongError("a crop has four numbers", CUT_RIGHT)
    left, top, right, bottom = (float(n) for n in value)
    if left >= right or top >= bottom or min(left, top) < 0:
        raise WrongError(
            "this crop holds no picture", "left is less than right, top less than bottom, none below 0"
        )
    return (left, top, right, bottom)


def _entries(value: Any) -> tuple[Node, ...]:
    """The nodes of a list of overlays, read by their kinds later. Raises WrongError."""
    if isinstance(value, tuple):
        return value
    node = node_of(value)
    if not isinstance(node, Sequence):
        raise WrongError("`draw` takes a list of overlays", "begin each with `- `, as in `- vertical: navel`")
    return node.items


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
    def instants(self) -> tuple[tuple[tuple[str | int, ...], Instant], ...]:
        """The instants of its panels, each after the path of keys to where it is written."""
        return ()


class FrameFields(FigureFields):
    """One picture."""

    at: InstantText = Field(examples=["impact"])

    @property
    def instants(self) -> tuple[tuple[tuple[str | int, ...], Instant], ...]:
        return ((("at",), self.at),)


class StripFields(FigureFields):
    """Several pictures of one clip under one set of overlays."""

    frames: Annotated[tuple[InstantText, ...], Field(min_length=1, examples=["[setup, top, impact]"])]

    @property
    def instants(self) -> tuple[tuple[tuple[str | int, ...], Instant], ...]:
        return tuple((("frames", place), instant) for place, instant in enumerate(self.frames))


FIGURES: dict[str, type[FigureFields]] = {"frame": FrameFields, "strip": StripFields}
