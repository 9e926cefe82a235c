"""Escapes of a value in double quotes that make no character which can be printed.

A character beyond U+FFFF may be written as two halves, as in JSON, of which YAML is a superset (YAML 1.2.2,
section 1.3); PyYAML reads each half by itself. A half alone is no character, and controls are none that HTML,
XML or a terminal may be given.
"""

from __future__ import annotations

import re

from lessonpress.manuscript.text.files import CONTROL

_HALVES = re.compile("[\ud800-\udbff][\udc00-\udfff]")
_ALONE = re.compile("[\ud800-\udfff]")


def made_whole(text: str) -> str:
    """The text with every two halves that belong together as their character."""
    return _HALVES.sub(lambda two: two[0].encode("utf-16", "surrogatepass").decode("utf-16"), text)


def unprintable(text: str) -> str | None:
    """The first character that cannot be printed."""
    found = _ALONE.search(text) or CONTROL.search(text)
    return found[0] if found else None


def without_unprintable(text: str) -> str:
    """The text with the sign of replacement for each of them."""
    return CONTROL.sub("\N{REPLACEMENT CHARACTER}", _ALONE.sub("\N{REPLACEMENT CHARACTER}", text))
