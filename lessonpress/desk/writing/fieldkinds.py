"""What the value of a field names, told from the field's type: a new kind of overlay needs nothing here."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Annotated, Any, Literal, get_args, get_origin, get_type_hints

from pydantic.fields import FieldInfo

from lessonpress.manuscript import InstantText, MarkName, Written, YesNo

Names = Literal["mark", "instant", "clip", "lesson", "set", "range", "measure", "topic", "series", ""]

# what a text names, by its key: of texts the type says nothing
BY_KEY: dict[str, Names] = {
    "use": "set",
    "expect": "range",
    "clip": "clip",
    "clips": "clip",
    "over": "lesson",
    "measure": "measure",
    "topics": "topic",
    "series": "series",
}
CROPS = ("auto", "whole")


def names_of(model: type[Written], key: str) -> Names:
    """What a value of the key names; "" where it names nothing of the site."""
    for annotated in _parts(_hint(model, key)):
        if _is(annotated, MarkName):
            return "mark"
        if _is(annotated, InstantText):
            return "instant"
    return BY_KEY.get(key, "")


def choices_of(model: type[Written], key: str) -> tuple[str, ...]:
    """The words that a value of the key may be, where there are few."""
    if key == "crop":
        return CROPS
    for one in _parts(_hint(model, key)):
        if _is(one, YesNo):
            return ("true", "false")
        if get_origin(one) is Literal and all(isinstance(word, str) for word in get_args(one)):
            return get_args(one)
    return ()


def takes_several(model: type[Written], key: str) -> bool:
    """Whether the key is written as a list: `[…]`."""
    return any(get_origin(one) is tuple for one in _parts(_hint(model, key)))


def example_of(model: type[Written], key: str) -> str:
    """A value written right, "" where the field shows none."""
    info = _info(model, key)
    return str(info.examples[0]) if info and info.examples else ""


def _info(model: type[Written], key: str) -> FieldInfo | None:
    fields = model.model_fields
    return next((info for name, info in fields.items() if key == (info.alias or name)), None)


def _hint(model: type[Written], key: str) -> Any:
    hints = get_type_hints(model, include_extras=True)
    named = (name for name, info in model.model_fields.items() if key == (info.alias or name))
    return hints.get(next(named, ""), None)


def _parts(hint: Any) -> Iterator[Any]:
    """A type, and all those that it is made of."""
    yield hint
    inner = get_args(hint)[:1] if get_origin(hint) is Annotated else get_args(hint)
    for one in inner if get_origin(hint) is not Literal else ():
        yield from _parts(one)


def _is(annotated: Any, kind: Any) -> bool:
    """Whether a type is `kind`, perhaps with more said of it."""
    if get_origin(annotated) is not Annotated:
        return False
    said, wanted = annotated.__metadata__, kind.__metadata__
    return annotated.__origin__ is kind.__origin__ and said[: len(wanted)] == wanted
