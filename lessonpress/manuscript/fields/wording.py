"""The words for each error of pydantic's: what is wrong, what would be right, near names. A table."""

from __future__ import annotations

import json
from collections.abc import Callable
from dataclasses import dataclass
from typing import Any, Literal, get_args, get_origin

from pydantic import BaseModel
from pydantic.fields import FieldInfo
from pydantic_core import ErrorDetails

from lessonpress.manuscript.fields.invalid_value import InvalidValueError, slip_in
from lessonpress.manuscript.yaml.nodes import Mapping, Scalar
from lessonpress.records import nearest

MOST_KEYS = 8  # a longer list of right keys is not read
Words = tuple[str, str, tuple[str, ...]]


@dataclass(frozen=True)
class Case:
    """An error of pydantic's with what it is about.

    path: of keys and indices. name: its last key. holder: the PlacedDict that the key belongs to.
    """

    error: ErrorDetails
    path: tuple[str | int, ...]
    name: str
    holder: Any

    @property
    def model(self) -> type[BaseModel] | None:
        """The model that last tried to read the holder."""
        model: type[BaseModel] | None = getattr(self.holder, "model", None)
        return model

    @property
    def given(self) -> Any:
        return self.error["input"]

    @property
    def ctx(self) -> dict[str, Any]:
        return self.error.get("ctx", {})

    @property
    def field(self) -> FieldInfo | None:
        fields = self.model.model_fields if self.model else {}
        return next((field for name, field in fields.items() if (field.alias or name) == self.name), None)


def words_for(case: Case) -> Words:
    if case.given is None and case.error["type"] not in ("missing", "extra_forbidden", "value_error"):
        return f"`{case.name}` has no value", _write_one(case), ()
    slip = slip_in(case.given) if isinstance(case.given, str) and case.error["type"] in STRICT else None
    if slip is not None:
        return slip.wrong, slip.right, slip.near
    words = WORDS.get(case.error["type"])
    return (
        words(case)
        if words
        else (f"`{case.name}`: {case.error['msg'][:1].lower()}{case.error['msg'][1:]}", "", ())
    )


def _write_one(case: Case) -> str:
    needed = case.field is not None and case.field.is_required()
    return "write one after the colon" + ("" if needed else ", or leave the key out")


def _own(case: Case) -> Words:
    error = case.ctx.get("error")
    if isinstance(error, InvalidValueError):
        return error.wrong, error.right, error.near
    return f"`{case.name}`: {error}", "", ()


def _missing(case: Case) -> Words:
    if isinstance(case.error["loc"][-1], int):
        return f"`{case.name}` has too few entries", f"it takes {_arity(case.field)}", ()
    words: Words | None = getattr(case.model, "MISSING", {}).get(case.name)
    if words:
        return words
    examples = (case.field.examples if case.field else None) or options(case.field)[:1] or ["…"]
    return f"`{case.name}` is missing", f"add `{case.name}: {examples[0]}`", ()


def unknown_key(case: Case) -> Words:
    fields = case.model.model_fields if case.model else {}
    keys = [field.alias or name for name, field in fields.items()]
    near = nearest(case.name, keys)
    right = f"the keys here are {', '.join(keys)}" if len(keys) <= MOST_KEYS or not near else ""
    return f"there is no key `{case.name}` here", right, near


def options(field: FieldInfo | None) -> list[str]:
    """The values a field is limited to, [] where it is not."""
    return _literals(field.annotation) if field else []


def _literals(annotation: Any) -> list[str]:
    if get_origin(annotation) is Literal:
        return [str(value) for value in get_args(annotation)]
    return [value for inner in get_args(annotation) for value in _literals(inner)]


def _literal(case: Case) -> Words:
    given = _shown(case.given)
    right = options(case.field) or [case.ctx.get("expected", "").replace("'", "")]
    return f"`{case.name}` cannot be {given}", f"it is {_one_of(right)}", nearest(str(case.given), right)


def _text(case: Case) -> Words:
    if isinstance(case.given, bool):
        written = "true" if case.given else "false"
        return f"text is expected here, and {written} is not text", f'put quotes round it: "{written}"', ()
    if isinstance(case.given, dict):
        return "text is expected here, and braces begin a mapping", _quoted(case), ()
    return "text is expected here, and this is a list", "put quotes round it, or write one value", ()


def _quoted(case: Case) -> str:
    """The way out where a measure in braces is in place of text."""
    node = getattr(case.given, "node", None)
    if isinstance(node, Mapping) and node.flow and len(node.entries) == 1:
        key, value = node.entries[0]
        if isinstance(value, Scalar) and value.value is None:
            return f'put quotes round it: `{case.name}: "{{{key.written}}}"`'
    return "put quotes round it"


def _number(case: Case) -> Words:
    return f"a number is expected here, not {_shown(case.given)}", "", ()


def _whole(case: Case) -> Words:
    return f"a whole number is expected here, not {_shown(case.given)}", "", ()


def _yes_no(case: Case) -> Words:
    near = {"yes": "true", "on": "true", "no": "false", "off": "false"}.get(str(case.given).lower())
    return f"`{case.name}` cannot be {_shown(case.given)}", "it is true or false", (near,) if near else ()


def _list(case: Case) -> Words:
    if isinstance(case.given, dict):
        return (
            "a list is expected here, and this is a mapping",
            "write `[one, two]`, or lines that begin with `- `",
            (),
        )
    wrong = f"a list is expected here, not {_shown(case.given)}"
    if isinstance(case.path[-1], int):
        return wrong, "each entry is a list of its own, `- [one, two]`", ()
    arity = _arity(case.field)
    right = f"write `[{_bare(case.given)}]`" if arity == "more" else f"it takes {arity}, in brackets"
    return wrong, right, ()


def _mapping(case: Case) -> Words:
    keys = ", ".join(_model_keys(case))
    right = f"its keys are {keys}" if keys else "write `{key: value}`, or `key: value` lines below"
    return f"`key: value` is expected here, not {_shown(case.given)}", right, ()


def _model_keys(case: Case) -> list[str]:
    for annotation in _flat(case.field.annotation if case.field else None):
        if isinstance(annotation, type) and issubclass(annotation, BaseModel):
            return [field.alias or name for name, field in annotation.model_fields.items()]
    return []


def _flat(annotation: Any) -> list[Any]:
    inner = get_args(annotation)
    return [annotation] if not inner else [leaf for part in inner for leaf in _flat(part)]


def _too_few(case: Case) -> Words:
    return (
        f"`{case.name}` has too few entries ({case.ctx['actual_length']})",
        f"it takes {case.ctx['min_length']} at least",
        (),
    )


def _too_many(case: Case) -> Words:
    most = case.ctx["max_length"]
    return f"`{case.name}` has too many entries", f"it takes {most} at most", ()


def _arity(field: FieldInfo | None) -> int | str:
    """How many entries a list of fixed length takes, "more" where that is not known."""
    kinds = get_args(field.annotation) if field else ()
    return len(kinds) if kinds and Ellipsis not in kinds else "more"


def _bound(words: str) -> Callable[[Case], Words]:
    def worded(case: Case) -> Words:
        limit = next(value for key, value in case.ctx.items() if key in ("gt", "ge", "lt", "le"))
        return f"`{case.name}` cannot be {_shown(case.given)}", f"it is {words} {limit:g}", ()

    return worded


def _finite(case: Case) -> Words:
    return f"`{case.name}` cannot be {_shown(case.given)}", "a number that can be measured is expected", ()


def _short_text(case: Case) -> Words:
    return f"`{case.name}` is empty", _write_one(case), ()


def _no_kind(case: Case) -> Words:
    return f"nothing says which kind of `{case.name}` this is", str(case.ctx.get("expected_tags", "")), ()


def _shown(value: object) -> str:
    """A value as the author wrote it, in backquotes; a list or mapping by that word."""
    if isinstance(value, dict):
        return "a mapping"
    if isinstance(value, list | tuple):
        return "a list"
    return f"`{_bare(value)}`"


def _bare(value: object) -> str:
    return json.dumps(value) if isinstance(value, bool) or value is None else str(value)


def _one_of(names: list[str]) -> str:
    return names[0] if len(names) == 1 else f"{', '.join(names[:-1])} or {names[-1]}"


# errors of values that are no free text, so that quotes and commas in them are slips
STRICT = (
    "literal_error",
    "float_type",
    "float_parsing",
    "int_type",
    "int_parsing",
    "bool_type",
    "bool_parsing",
)

# pydantic's name of an error → our words for it
WORDS: dict[str, Callable[[Case], Words]] = {
    "value_error": _own,
    "missing": _missing,
    "extra_forbidden": unknown_key,
    "literal_error": _literal,
    "string_type": _text,
    "string_too_short": _short_text,
    "float_type": _number,
    "float_parsing": _number,
    "finite_number": _finite,
    "int_type": _whole,
    "int_parsing": _whole,
    "int_from_float": _whole,
    "int_parsing_size": _whole,
    "bool_type": _yes_no,
    "bool_parsing": _yes_no,
    "list_type": _list,
    "tuple_type": _list,
    "set_type": _list,
    "frozen_set_type": _list,
    "dict_type": _mapping,
    "model_type": _mapping,
    "model_attributes_type": _mapping,
    "too_short": _too_few,
    "too_long": _too_many,
    "greater_than": _bound("above"),
    "greater_than_equal": _bound("at least"),
    "less_than": _bound("below"),
    "less_than_equal": _bound("at most"),
    "union_tag_not_found": _no_kind,
}
