"""Values written as YAML on one line, as the handbook writes them."""

from __future__ import annotations

import json
import re
from collections.abc import Mapping, Sequence
from typing import Any

from lessonpress.manuscript.yaml.coreschema import tag_of

Value = Any  # what YAML holds: None, bool, int, float, str, lists and mappings of them

_PLAIN = re.compile(r"[A-Za-z0-9_][A-Za-z0-9_.+/()'°%=& -]*(?<! )|")


def written(value: Value) -> str:
    """A value on one line, collections in brackets and braces."""
    if isinstance(value, Mapping):
        return "{" + ", ".join(f"{written_key(key)}: {written(one)}" for key, one in value.items()) + "}"
    if isinstance(value, Sequence) and not isinstance(value, str):
        return "[" + ", ".join(written(one) for one in value) + "]"
    if isinstance(value, str):
        return value if value and _PLAIN.fullmatch(value) and tag_of(value) == "str" else _quoted(value)
    if value is None:
        return "null"
    return json.dumps(value)


def written_key(key: str | int) -> str:
    """A key of a mapping."""
    text = str(key)
    return text if re.fullmatch(r"[A-Za-z0-9_.-]+", text) else _quoted(text)


def _quoted(text: str) -> str:
    """In double quotes; JSON's are YAML's, save that line separators are to be escaped."""
    return json.dumps(text, ensure_ascii=False).replace("\u2028", "\\u2028").replace("\u2029", "\\u2029")
