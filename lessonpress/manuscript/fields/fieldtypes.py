"""The types of fields: how a value an author wrote becomes what the program works with.

Each is an Annotated type for fields of `Written` models. They take what `read_fields` gives them (text or
number with its node), plain text, or the finished thing.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from datetime import date
from typing import Annotated, Any, TypeVar

from pydantic import AfterValidator, BeforeValidator, Field, PlainValidator, Strict

from lessonpress.manuscript.fields import expectations, instants, quantities
from lessonpress.manuscript.fields.invalid_value import InvalidValueError, slip_in
from lessonpress.manuscript.fields.names import LONGEST_NAME, NAME, near_name
from lessonpress.manuscript.fields.written import node_of
from lessonpress.manuscript.yaml.nodes import Mapping, Scalar
from lessonpress.records import Instant, Length

T = TypeVar("T")
RESERVED_IDS = ("figure", "tempo")


def written_text(value: Any, due: str, example: str) -> str:
    """The text of a scalar as it was written. Raises InvalidValueError for anything else."""
    node = node_of(value)
    if isinstance(node, Scalar) or (isinstance(value, str | int | float) and not isinstance(value, bool)):
        text = node.written if isinstance(node, Scalar) else str(value)
        slip = slip_in(text)
        if slip is not None:
            raise slip
        return text
    if value is None:
        raise InvalidValueError(f"{due} is expected here, and nothing is written", f"write `{example}`")
    what = {dict: "a mapping", list: "a list", bool: "true or false"}
    kind_words = next((words for kind, words in what.items() if isinstance(value, kind)), "something else")
    raise InvalidValueError(f"{due} is expected here, and this is {kind_words}", f"write `{example}`")


def _text_into(made: type[T], into: Callable[[str], T], due: str, example: str) -> Callable[[Any], T]:
    def convert(value: Any) -> T:
        return value if isinstance(value, made) else into(written_text(value, due, example))

    return convert


def _above_zero(value: Length) -> Length:
    if value.metres <= 0:
        raise InvalidValueError(f"`{value}` is not a length", "a length is above zero")
    return value


def _not_below_zero(value: Length) -> Length:
    if value.metres < 0:
        raise InvalidValueError(f"`{value}` is below zero", "a half-width has no sign")
    return value


_length = PlainValidator(_text_into(Length, quantities.length, "a length", "36 in"))
LengthText = Annotated[Length, _length, AfterValidator(_above_zero)]
SignedLengthText = Annotated[Length, _length]
WithinText = Annotated[Length, _length, AfterValidator(_not_below_zero)]


def _number_with(parse: Callable[[str], float], due: str, example: str) -> Any:
    def convert(value: Any) -> float:
        if isinstance(value, float) and node_of(value) is None:
            return value
        return parse(written_text(value, due, example))

    return PlainValidator(convert)


DurationText = Annotated[float, _number_with(quantities.duration, "a duration", "4 ms")]
ExposureText = Annotated[float, _number_with(quantities.exposure, "an exposure", "1/500 s")]
AngleText = Annotated[float, _number_with(quantities.angle, "an angle", "90 deg")]
PixelsText = Annotated[float, _number_with(quantities.pixels, "a length in pixels", "1450 px")]

SizeText = Annotated[float, _number_with(quantities.data_size, "a size", "5 GB")]


def to_instant(value: Any) -> Instant:
    """An instant with the location it was written at."""
    if isinstance(value, Instant):
        return value
    node = node_of(value)
    return instants.parse_instant(written_text(value, "an instant", "top"), node.location if node else None)


InstantText = Annotated[Instant, PlainValidator(to_instant)]

ExpectationText = Annotated[
    expectations.Expectation,
    PlainValidator(
        _text_into(expectations.Expectation, expectations.parse_expectation, "a range", "25..35 deg away")
    ),
]


def _named(due: str, example: str) -> Callable[[Any], str]:
    def convert(value: Any) -> str:
        name = written_text(value, due, example)
        if len(name) > LONGEST_NAME:
            right = f"up to {LONGEST_NAME} characters: files are called after it"
            raise InvalidValueError(f"{due} is expected here, and this is too long", right)
        if NAME.fullmatch(name):
            return name
        right = "small letters, digits and hyphens, a letter first"
        raise InvalidValueError(f"`{name}` is not {due}", right, near_name(name))

    return convert


MarkName = Annotated[str, PlainValidator(_named("a mark's name", "navel"))]
Name = Annotated[str, PlainValidator(_named("a name", "setup"))]


def _not_reserved(name: str) -> str:
    if name in RESERVED_IDS:
        raise InvalidValueError(f"`{name}` is kept for the program's own use", "choose another id")
    return name


Id = Annotated[str, PlainValidator(_named("an id", "navel-back")), AfterValidator(_not_reserved)]


def _event(name: str) -> str:
    if name in instants.SETUP:
        raise InvalidValueError(f"`{name}` is called setup here", "write `setup`", ("setup",))
    return name


EventName = Annotated[str, PlainValidator(_named("an event's name", "top")), AfterValidator(_event)]


def to_date(value: Any) -> date:
    """A day of the calendar, year first. Raises InvalidValueError."""
    if isinstance(value, date):
        return value
    text = written_text(value, "a date", "2026-11-23")
    if not re.fullmatch(r"[0-9]{4}-[0-9]{2}-[0-9]{2}", text):
        raise InvalidValueError(f"`{text}` is not a date", "write year-month-day, `2026-11-23`")
    try:
        return date.fromisoformat(text)
    except ValueError:
        raise InvalidValueError(
            f"`{text}` is not a day of the calendar", "write a day that there is"
        ) from None


DateText = Annotated[date, PlainValidator(to_date)]
Text = Annotated[str, Field(min_length=1)]
YesNo = Annotated[bool, Strict()]
Meant = dict[Name, Text]  # a finding's id → the author's reason why it is meant so


def _strictly_number(value: Any) -> Any:
    if isinstance(value, str | bool):
        slip = slip_in(node_written(value))
        if slip is not None:
            raise slip
        raise InvalidValueError(f"a number is expected here, not `{node_written(value)}`")
    return value


def node_written(value: Any) -> str:
    """A scalar as it was written."""
    node = node_of(value)
    return (
        node.written
        if isinstance(node, Scalar)
        else str(value).lower()
        if isinstance(value, bool)
        else str(value)
    )


Number = Annotated[float, BeforeValidator(_strictly_number)]
Whole = Annotated[int, BeforeValidator(_strictly_number)]


def _to_node(value: Any) -> Mapping:
    """A mapping's node; a word alone, which an overlay may be, is a key without a value."""
    node = value if isinstance(value, Mapping) else node_of(value)
    if isinstance(node, Scalar) and node.written:
        return Mapping(node.location, ((node, Scalar(node.location, None, "")),))
    if not isinstance(node, Mapping) or not node.entries:
        raise InvalidValueError(
            "`key: value` is expected here", "write `- kind: mark`, such as `- vertical: navel`"
        )
    return node


MappingNode = Annotated[Mapping, PlainValidator(_to_node)]


def _url(text: str) -> str:
    if not re.fullmatch(r"https?://[^\s/]+(/\S*)?", text):
        raise InvalidValueError(f"`{text}` is not a web address", "it begins with https:// and has no spaces")
    return text


Url = Annotated[str, AfterValidator(_url)]
