"""Every field of every text of the sound site, and a text with one of them replaced."""

from __future__ import annotations

import json
import re
from collections.abc import Iterator
from pathlib import Path
from random import Random
from typing import Any

import yaml

from tests.corpus.sound import CARD, GLOSSARY, LESSON, MARKS, PAGE, SITE

YAML = (SITE, GLOSSARY, CARD, MARKS)
MARKDOWN = (LESSON, PAGE)
Field = tuple[Any, ...]  # keys and indices
_FENCE = re.compile(r"^```(?:frame|strip)\n(.*?)^```$", re.MULTILINE | re.DOTALL)
_FRONT = re.compile(r"\A---\n(.*?)^---$", re.MULTILINE | re.DOTALL)


def replace_a_field(root: Path, random: Random, value: Any, name: str | None = None) -> str:
    """Put `value` in the place of some field of a text, chosen among all; what was done in words."""
    name = name or random.choice((*YAML, *MARKDOWN))
    text = (root / name).read_text(encoding="utf-8")
    spans = [(0, len(text))] if name in YAML else _spans(text)
    start, end = random.choice(spans)
    data = yaml.safe_load(text[start:end])
    path = random.choice(list(paths_in(data)))
    text = text[:start] + _written(replaced(data, path, value)) + text[end:]
    (root / name).write_text(text, encoding="utf-8", errors="surrogatepass")
    return f"{name}: {'.'.join(map(str, path))} is {str(value)[:60]!r}"


def fields_of(name: str, text: str) -> Iterator[tuple[int, int, Field]]:
    """The fields of a file, each after the span of its text that holds the mapping it is in."""
    for start, end in [(0, len(text))] if name in YAML else _spans(text):
        for field in paths_in(yaml.safe_load(text[start:end])):
            yield start, end, field


def with_value(data: Any, field: Field, value: Any) -> str:
    """A mapping as YAML with another value in the place of one field's."""
    return _written(replaced(data, field, value))


def with_key(data: Any, field: Field, key: str) -> str:
    """A mapping as YAML with another key in the place of one field's, in its order."""
    holder = data
    for part in field[:-1]:
        holder = holder[part]
    renamed = {key if one == field[-1] else one: value for one, value in holder.items()}
    return _written(replaced(data, field[:-1], renamed))


def _spans(text: str) -> list[tuple[int, int]]:
    found = [*_FRONT.finditer(text), *_FENCE.finditer(text)]
    return [match.span(1) for match in found]


def paths_in(data: Any, path: tuple[Any, ...] = ()) -> Any:
    if path:
        yield path
    children = data.items() if isinstance(data, dict) else enumerate(data) if isinstance(data, list) else ()
    for key, value in children:
        yield from paths_in(value, (*path, key))


def replaced(data: Any, path: tuple[Any, ...], value: Any) -> Any:
    if not path:
        return value
    made = dict(data) if isinstance(data, dict) else list(data)
    made[path[0]] = replaced(made[path[0]], path[1:], value)
    return made


def _written(data: Any) -> str:
    """As flow style YAML: JSON with what JSON has no word for; one key a line."""
    return "".join(f"{json.dumps(str(key))}: {flow(value)}\n" for key, value in data.items())


def flow(value: Any) -> str:
    if isinstance(value, Raw):
        return str(value)
    if isinstance(value, dict):
        return "{" + ", ".join(f"{json.dumps(str(k))}: {flow(v)}" for k, v in value.items()) + "}"
    if isinstance(value, list):
        return "[" + ", ".join(flow(one) for one in value) + "]"
    if isinstance(value, bool | int | float) or value is None:
        return json.dumps(value)
    return json.dumps(str(value))


class Raw(str):
    """A value that is written as it is."""
