"""YAML's core schema, version 1.2.2, chapter 10.3: what a plain scalar resolves to.

PyYAML knows version 1.1, where `on`, `no` and `12:30:10` are not text. Its resolver is given the 1.2 table.
"""

from __future__ import annotations

import re
import sys
from collections.abc import Callable
from functools import lru_cache

import yaml
from yaml.resolver import BaseResolver

Plain = None | bool | int | float | str

TAG = "tag:yaml.org,2002:"
MOST_DIGITS = 300  # a longer run of digits is not a number that a lesson holds, and slow to read as one


class CoreResolver(BaseResolver):
    """PyYAML's resolver with none of its own rules."""


# YAML 1.2.2, table in 10.3.2, in its order: tag, pattern, characters a match can begin with.
RESOLUTIONS: tuple[tuple[str, str, list[str]], ...] = (
    ("null", r"null|Null|NULL|~|", ["n", "N", "~", ""]),
    ("bool", r"true|True|TRUE|false|False|FALSE", list("tTfF")),
    ("int", r"[-+]?[0-9]+", list("-+0123456789")),
    ("int", r"0o[0-7]+", ["0"]),
    ("int", r"0x[0-9a-fA-F]+", ["0"]),
    ("float", r"[-+]?(\.[0-9]+|[0-9]+(\.[0-9]*)?)([eE][-+]?[0-9]+)?", list("-+.0123456789")),
    ("float", r"[-+]?(\.inf|\.Inf|\.INF)", list("-+.")),
    ("float", r"\.nan|\.NaN|\.NAN", ["."]),
)
for _tag, _pattern, _first in RESOLUTIONS:
    CoreResolver.add_implicit_resolver(TAG + _tag, re.compile(rf"(?:{_pattern})\Z"), _first)

_CORE = CoreResolver()


@lru_cache(maxsize=4096)
def tag_of(text: str) -> str:
    """The short tag (null, bool, int, float, str) of a plain scalar."""
    tag: str = _CORE.resolve(yaml.ScalarNode, text, (True, False))  # type: ignore[no-untyped-call]
    return tag.removeprefix(TAG)


def value_of(text: str) -> Plain:
    """What a plain scalar means; a number of more than 300 characters stays text."""
    return construct(tag_of(text), text)


def construct(tag: str, text: str) -> Plain:
    """`text` read as the tag says. Raises ValueError where it cannot be."""
    if tag in ("int", "float") and len(text) > MOST_DIGITS:
        return text
    value = CONSTRUCTORS[tag](text)
    return text if tag == "int" and abs(int(value or 0)) > sys.float_info.max else value


def _integer(text: str) -> int:
    if text[:2] in ("0o", "0x"):
        return int(text[2:], 8 if text[1] == "o" else 16)
    return int(text)


def _number(text: str) -> float:
    return float(text.lower().replace(".inf", "inf").replace(".nan", "nan"))


CONSTRUCTORS: dict[str, Callable[[str], Plain]] = {
    "null": lambda text: None,
    "bool": lambda text: text.lower() == "true",
    "int": _integer,
    "float": _number,
    "str": str,
}
