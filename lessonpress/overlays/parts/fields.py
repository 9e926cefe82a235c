"""What every overlay may be given besides its marks."""

from __future__ import annotations

from collections.abc import Hashable
from dataclasses import dataclass
from typing import Annotated, ClassVar, Literal

from pydantic import Field

from lessonpress.manuscript import Id, InstantText, Text, Whole, Written, YesNo
from lessonpress.records import Axis, Dimension, Instant


@dataclass(frozen=True)
class Question:
    """What the desk asks for besides the marks of the kind's own key.

    key: the field that takes the answer. mark: a further mark, clicked on the picture; else a text that is
    asked for in `words`, where `usual` is already typed in.
    """

    key: str
    words: str = ""
    usual: str = ""
    mark: bool = False


SeenIn = Annotated[Literal["picture", "space"], Field(alias="in")]  # space: with what goes toward the camera
IN_SPACE = ", in space"
ColourNumber = Annotated[Whole, Field(ge=1, le=7)]


class OverlayFields(Written):
    """Keys that all kinds share, and in capitals what a kind says of itself.

    measure_id: written `as`. placed: where the marks were at another instant. only: the panels of a strip
    that it is drawn on; empty for all. show: false is measured and in the ledger, but not drawn.
    """

    KEY: ClassVar[str]  # the kind's own key
    COUNT: ClassVar[tuple[int, int | None]]  # how many marks its key takes: at least, at most
    EXAMPLE: ClassVar[str]  # one written right
    PLACED: ClassVar[bool] = True  # whether it may be drawn where its marks were at another instant
    DIMENSION: ClassVar[Dimension | None] = None  # of its number; None for a kind that measures nothing
    BAR_ZERO: ClassVar[bool] = False  # whether the scale bar below may count from its mark
    LETTER: ClassVar[str | None] = None  # the key that chooses it at the desk
    QUESTIONS: ClassVar[tuple[Question, ...]] = ()  # what the desk asks for once its marks are clicked

    measure_id: Annotated[Id | None, Field(alias="as")] = None
    expect: Text | None = None
    label: Text | None = None
    colour: ColourNumber | None = None
    placed: InstantText | None = None
    only: tuple[InstantText, ...] = ()
    show: YesNo = True

    @property
    def marks(self) -> tuple[str, ...]:
        """The marks the overlay names, in the order written."""
        return ()

    def mark_places(self) -> tuple[tuple[tuple[str | int, ...], str], ...]:
        """Each mark named, after the path of keys to where it is written."""
        if self.COUNT[1] == 1:
            return tuple(((self.KEY,), mark) for mark in self.marks)
        return tuple(((self.KEY, index), mark) for index, mark in enumerate(self.marks))

    @property
    def along(self) -> Axis | None:
        """The axis its number is taken along, None where that has no meaning."""
        return None

    @property
    def from_instant(self) -> Instant | None:
        """The other instant it looks back to (`since`, `from`), None where it needs only its own frame."""
        return None

    @property
    def needs_scale(self) -> bool:
        """Whether a length is drawn true to scale, so that a clip without a scale cannot show it."""
        return False

    @property
    def ways(self) -> tuple[str, ...]:
        """The words its sign may carry: ("toward", "away"), ("up", "down"); () for a measure without sign."""
        return ()

    @property
    def identity(self) -> tuple[Hashable, ...]:
        """Equal for overlays that are one and the same thing through a lesson, and so share a letter.

        The marks, axis, since and placed; the caller adds the kind.
        """
        return (self.marks, self.along, _as_written(self.from_instant), _as_written(self.placed))


def _as_written(instant: Instant | None) -> str | None:
    return None if instant is None else instant.text
