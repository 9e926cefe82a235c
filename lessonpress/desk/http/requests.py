"""What is sent to the desk: the body of each request as a model, and the sentence for one that is wrong.

A field's description says what it is to be. It is read twice: by `read`, for the sentence of a refusal, and
by `routes.listed`, for the list of routes.
"""

from __future__ import annotations

import re
from datetime import date
from typing import Annotated, Any, Literal, TypeVar, get_args

from pydantic import (
    AfterValidator,
    BaseModel,
    BeforeValidator,
    ConfigDict,
    Field,
    PlainSerializer,
    Strict,
    ValidationError,
    ValidationInfo,
    ValidatorFunctionWrapHandler,
    WrapValidator,
    field_validator,
    model_validator,
)
from pydantic_core import ErrorDetails, PydanticCustomError

from lessonpress.desk.files.clicks import Placing, placing_of, rounded
from lessonpress.desk.http.responses import RequestError
from lessonpress.figures import FIGURES
from lessonpress.manuscript import ACCEPTED, NAME

LONGEST_NAME = 80  # characters of a mark's name
LONGEST_BLOCK = 50_000  # characters of a figure's YAML
NARROWEST, WIDEST = 80.0, 32_000.0  # CSS px of a draft; the widest pictures at the closest view
DEEPEST = 6  # steps of a path on the card
LONGEST_REASON = 300  # characters of an answer to a finding
MOST_CLICKS = 100
_FINDING = re.compile(r"[a-z]+(?:-[a-z]+)*-[0-9a-f]{6}")
BEYOND = 1e7  # every number that is sent is nearer to zero

TEXT = "a text"
FRAME = "a whole number from 0"
NUMBER = "a number"
PLACING = '[x, y], [x, y, u], [x, y, u, "suggested"] or null'
ROWS = "a list of rows [frame, x, y, u]"
END = "a mark's name or [x, y]"
UNSAVED = "a mapping of marks to their placings by frame: [x, y], [x, y, u] or null"


def _wrong(reason: str, way_out: str = "") -> PydanticCustomError:
    """A refusal in words of its own, where the description does not say enough."""
    return PydanticCustomError("refused", "{reason}", {"reason": reason, "way_out": way_out})


def _wrong_field(reason: str, way_out: str = "") -> PydanticCustomError:
    """The same of a field: the reason goes on from its key."""
    return PydanticCustomError("refused_field", "{reason}", {"reason": reason, "way_out": way_out})


# values


def _mark(name: str) -> str:
    if not NAME.fullmatch(name) or len(name) > LONGEST_NAME:
        shown = name[:LONGEST_NAME]
        raise _wrong(f"`{shown}` is not a mark's name", "small letters, digits and hyphens")
    return name


def _in_picture(placing: tuple[float, ...]) -> Placing:
    if min(placing[:2]) < 0 or (len(placing) == 3 and placing[2] <= 0):
        raise _wrong_field("lies outside the picture", "x and y from 0, u above 0")
    return rounded(placing)


def _accepted(given: object, numbers: ValidatorFunctionWrapHandler) -> Placing:
    """The placing of a suggestion that was accepted: what comes before the word, and the word."""
    if isinstance(given, list | tuple) and len(given) == 4 and given[3] == ACCEPTED:
        return (*numbers(list(given[:3])), ACCEPTED)
    made: Placing = numbers(given)
    return made


def _row_in_picture(row: Row) -> Row:
    if min(row[1:3]) < 0 or row[3] <= 0:
        raise _wrong_field("has a row outside the picture", "x and y from 0, u above 0")
    return row


def _by_frame(rows: tuple[Row, ...]) -> tuple[Row, ...]:
    if len({row[0] for row in rows}) != len(rows):
        raise _wrong_field("has a frame twice")
    return tuple(sorted(rows))


def _frame_of_key(written: object) -> object:
    if not isinstance(written, str) or not written.isdecimal() or len(written) > 8:
        raise _wrong(f"`{str(written)[:20]}` is not a frame")
    return int(written)


def _figure(kind: str) -> str:
    if kind not in FIGURES:
        raise _wrong(f"`{kind[:40]}` is not a kind of figure", f"kinds are {', '.join(FIGURES)}")
    return kind


def _day(written: str) -> str:
    try:
        date.fromisoformat(written)
    except ValueError:
        raise _wrong("`date` is to be a day", "write it as 2026-11-23") from None
    return written


def _finding(written: str) -> str:
    if not _FINDING.fullmatch(written):
        raise _wrong(f"`{written[:40]}` is not the id of a finding", "ids are as caution-3fa91c")
    return written


def _reason(written: str) -> str:
    if not written.strip() or len(written) > LONGEST_REASON or "\n" in written:
        raise _wrong("a reason is one line", f"up to {LONGEST_REASON} characters")
    return written.strip()


Text = Annotated[str, Strict()]
AnyText = Annotated[str, BeforeValidator(str)]
Whole = Annotated[int, Strict(), Field(ge=0)]
Number = Annotated[float, Strict(), Field(gt=-BEYOND, lt=BEYOND, allow_inf_nan=False)]
Flag = Annotated[bool, BeforeValidator(lambda given: given is True)]
MarkName = Annotated[Text, AfterValidator(_mark)]
FigureKind = Annotated[Text, AfterValidator(_figure)]
Day = Annotated[Text, AfterValidator(_day)]
Free = Annotated[tuple[Number, ...], Field(min_length=2, max_length=3)]  # in the picture or not
Placed = Annotated[
    Free, AfterValidator(_in_picture), WrapValidator(_accepted), PlainSerializer(lambda placing: placing)
]
Click = Annotated[tuple[Number, Number], AfterValidator(_in_picture)]
Row = tuple[int, float, float, float]  # frame, x, y, u
Rows = Annotated[
    tuple[
        Annotated[
            tuple[Whole, Number, Number, Number],
            BeforeValidator(lambda row: row[:4] if isinstance(row, list) else row),
            AfterValidator(_row_in_picture),
        ],
        ...,
    ],
    AfterValidator(_by_frame),
]
Unsaved = dict[Text, dict[Annotated[int, BeforeValidator(_frame_of_key)], Free | None]]
Step = Text | Whole  # of a path: a key, or a place in a list


class Request(BaseModel):
    """What a route takes. Keys that it does not know are passed over."""

    model_config = ConfigDict(frozen=True)


class Edit(Request):
    """A change of one place in a file: what was there, `was`, and what is to be there, `to`."""

    @model_validator(mode="before")
    @classmethod
    def _mapping(cls, given: object) -> object:
        if not isinstance(given, dict):
            raise _wrong("an edit is a mapping")
        return given


class Edits(Request):
    """Edits of a file, done all or none. version: of the file that the page knows."""

    version: Text | None = Field(None, description=TEXT)
    anyway: Flag = Field(False, description="true or false")


# files of a clip


class MarkEdit(Edit):
    """One placing before and after; None: it is not placed. From `clicks` follows `to`."""

    mark: MarkName = Field(description=TEXT)
    frame: Whole = Field(description=FRAME)
    was: Placed | None = Field(None, description=PLACING)
    clicks: Annotated[tuple[Click, ...], Field(min_length=1, max_length=MOST_CLICKS)] | None = Field(
        None, description="a list of places [x, y]", exclude=True
    )
    to: Placed | None = Field(None, description=PLACING, validate_default=True)

    @field_validator("to")
    @classmethod
    def _clicked(cls, to: Placing | None, info: ValidationInfo) -> Placing | None:
        clicks = info.data.get("clicks")
        return to if clicks is None else placing_of(clicks)


class SaveMarks(Edits):
    """Placings put, moved and taken away."""

    edits: tuple[MarkEdit, ...] = Field(description="a list")


class TrackEdit(Edit):
    """A mark's rows on frames first..last, before and after."""

    mark: MarkName = Field(description=TEXT)
    first: Whole = Field(description=FRAME)
    last: Whole = Field(description=FRAME)
    was: Rows = Field(description=ROWS)
    to: Rows = Field(description=ROWS)

    @model_validator(mode="after")
    def _within(self) -> TrackEdit:
        if not all(self.first <= row[0] <= self.last for row in self.to):
            raise _wrong("`to` has rows outside first..last")
        return self


class Suggest(Request):
    """A picture on which marks are to be suggested."""

    frame: Whole = Field(description=FRAME)


class SaveTracks(Edits):
    """Rows of carried marks put in the place of others: accepted, cut back, undone."""

    edits: tuple[TrackEdit, ...] = Field(description="a list")


class CardEdit(Edit):
    """One value of the card before and after, as YAML would hold it; None: not there."""

    path: tuple[Step, ...] = Field(description="a list of keys and list places")
    was: Any = Field(None, description="a value")
    to: Any = Field(None, description="a value")

    @field_validator("path")
    @classmethod
    def _from_a_key(cls, path: tuple[Step, ...]) -> tuple[Step, ...]:
        if not 1 <= len(path) <= DEEPEST or not isinstance(path[0], str):
            raise _wrong("an edit has a `path` of keys and list places")
        return path


class SaveCard(Edits):
    """Values of the card put and taken away."""

    edits: tuple[CardEdit, ...] = Field(description="a list")


# measuring and carrying


class Carry(Request):
    """Marks to be carried over frames first..last."""

    marks: tuple[AnyText, ...] = Field(description="a list")
    first: Whole = Field(description=FRAME, alias="from")
    last: Whole = Field(description=FRAME, alias="to")


class Length(Request):
    """A length between two points of a picture, `marks` laid over those that are saved."""

    frame: Whole = Field(description=FRAME)
    a: tuple[Number, Number] | Text = Field(description=END)
    b: tuple[Number, Number] | Text = Field(description=END)
    axis: Literal["straight", "level", "plumb"] = Field(
        "straight", description="one of straight, level, plumb"
    )
    marks: Unsaved = Field({}, description=UNSAVED)


# composing


class DrawDraft(Request):
    """A figure that is being composed. crop: "whole" draws over the whole picture. frame: the one picture
    that is drawn; None: all."""

    clip: Text = Field(description=TEXT)
    kind: FigureKind = Field(description=TEXT)
    text: Text = Field(description=TEXT)
    width: Number = Field(640, description=NUMBER)
    crop: Text = Field("whole", description=TEXT)
    frame: Whole | None = Field(None, description=FRAME)
    marks: Unsaved = Field({}, description=UNSAVED)

    @model_validator(mode="after")
    def _of_bearable_size(self) -> DrawDraft:
        if not NARROWEST <= self.width <= WIDEST or len(self.text) > LONGEST_BLOCK:
            raise _wrong("the draft is too large")
        return self


class WriteBlock(Request):
    """A figure's fields, to be written as its block."""

    kind: FigureKind = Field(description=TEXT)
    fields: dict[str, Any] = Field({}, description="a mapping")


# lessons


class NewLesson(Request):
    """A lesson from a clip; without blocks, of a frame for each event."""

    name: Text = Field(description=TEXT)
    title: Text = Field(description=TEXT)
    clip: Text = Field(description=TEXT)
    date: Day | None = Field(None, description=TEXT)
    blocks: tuple[AnyText, ...] | None = Field(None, description="a list")


class UsualLesson(Request):
    """A lesson of the site's usual plates."""

    name: Text = Field(description=TEXT)
    title: Text = Field(description=TEXT)
    date: Day | None = Field(None, description=TEXT)


class TextEdit(Edit):
    """A whole text, `to`, which the author made of `was`."""

    was: Text = Field(description=TEXT)
    to: Text = Field(description=TEXT)


class SaveLesson(TextEdit):
    """A lesson's text. anyway: over what is there."""

    anyway: Flag = Field(False, description="true or false")


class WriteOn(Request):
    """A lesson's text as it is typed, before the cursor and after it."""

    before: Text = Field(description=TEXT)
    after: Text = Field(description=TEXT)


class ReadText(Request):
    """A lesson's text as it is typed."""

    text: Text = Field(description=TEXT)


class RenameLesson(Request):
    """Another name for a lesson."""

    to: Text = Field(description=TEXT)


class RenameClip(Request):
    """Another name for a clip's folder."""

    to: Text = Field(description=TEXT)


class TakeBack(Request):
    """What was put away and is to be in the site again: its path, `put-away/clips/CLIP`."""

    path: Text = Field(description=TEXT)


class PutFigure(Request):
    """A block with its fences, to be put before a line of the lesson."""

    block: Text = Field(description=TEXT)
    line: Whole = Field(description=FRAME)


class AnswerFinding(Edit):
    """An answer to a finding of the last look: why it is meant so; None: it is not answered."""

    path: Text = Field(description=TEXT)
    finding: Annotated[Text, AfterValidator(_finding)] = Field(description="the id of a finding")
    was: Text | None = Field(None, description="a text or null")
    to: Annotated[Text, AfterValidator(_reason)] | None = Field(None, description="a text or null")


class RestoreFile(Request):
    """A file, and the save before which it was as it is to be again."""

    path: Text = Field(description=TEXT)
    number: Whole = Field(description=FRAME)


class WriteLetter(Request):
    """How a lesson is written as a letter; see `mail` of the command line."""

    excerpt: Flag = Field(False, description="true or false")
    attach: Flag = Field(False, description="true or false")
    unlisted: Flag = Field(False, description="true or false")


# reading


R = TypeVar("R", bound=Request)


def read(model: type[R], body: object) -> R:
    """The request that a body makes. Raises RequestError (400) with a sentence for the first thing wrong."""
    try:
        return model.model_validate(body)
    except ValidationError as error:
        raise RequestError(400, *_sentence(model, error.errors(include_url=False)[0])) from None


def _sentence(model: type[Request], error: ErrorDetails) -> tuple[str, str]:
    """The reason and the way out. What a field is to be is in its description."""
    if error["type"] == "refused":
        return error["ctx"]["reason"], error["ctx"]["way_out"]
    at: type[Request] | None = model
    key, wanted, deeper = "", "a mapping", False
    for step in error["loc"]:
        fields = {field.alias or name: field for name, field in at.model_fields.items()} if at else {}
        if isinstance(step, str) and step in fields:
            key, wanted, deeper = step, fields[step].description or "", False
            at = next(iter(models_in(fields[step].annotation)), None)
        else:
            deeper = True
    if error["type"] == "refused_field":
        return f"`{key}` {error['ctx']['reason']}", error["ctx"]["way_out"]
    is_number = error["type"].startswith(("float", "finite", "greater", "less"))
    if deeper and is_number:
        return f"a number is expected in `{key}`", ""
    return f"`{key}` is to be {wanted}", ""


def models_in(annotation: Any) -> list[type[Request]]:
    """The models that a field of this type holds, itself or in a list."""
    if isinstance(annotation, type) and issubclass(annotation, Request):
        return [annotation]
    return [model for one in get_args(annotation) for model in models_in(one)]
