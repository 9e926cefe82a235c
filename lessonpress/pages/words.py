"""Counts and lists in the theme's language."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any


def counted(number: int, noun: str, words: Mapping[str, Any]) -> str:
    """ "three plates", "one drill", "48 measures": in words as far as the theme has them."""
    numbers: Sequence[str] = words["numbers"]
    one, many = words["nouns"][noun]
    said = numbers[number] if number < len(numbers) else str(number)
    return f"{said} {one if number == 1 else many}"


def listed(names: Sequence[str], words: Mapping[str, Any]) -> str:
    """ "I", "I and II", "I, II and III"."""
    if len(names) < 2:
        return "".join(names)
    return f"{', '.join(names[:-1])} {words['and']} {names[-1]}"


def fit(title: str) -> str:
    """How a title is set: "short" in full size, "long" and "longest" where that would push the page down."""
    longest_word = max((len(word) for word in title.split()), default=0)
    if len(title) > 110:
        return "longest"
    return "long" if len(title) > 55 or longest_word > 16 else "short"
