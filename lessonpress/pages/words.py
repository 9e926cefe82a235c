"""Counts, lists and the program's own phrases in the theme's language."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from functools import lru_cache
from typing import Any


def counted(number: int, noun: str, words: Mapping[str, Any]) -> str:
    """ "three plates", "one drill", "48 measures": in words as far as the theme has them."""
    numbers: Sequence[str] = words["numbers"]
    one, many = words["nouns"][noun]
    said = numbers[number] if number < len(numbers) else str(number)
    return str(one if number == 1 else many.format(number=said))


def phrase(english: str, words: Mapping[str, Any]) -> str:
    """What the program says in English, in the theme's language: "away from the target", "inside 3 to 5 in".

    The theme's `phrases` are looked through; one with braces fits any words in their places, which are looked
    up in turn. What is not among them is an author's own and stays as it is.
    """
    phrases: Mapping[str, str] = words["phrases"]
    if english in phrases:
        return phrases[english]
    for pattern, said in phrases.items():
        if "{" in pattern and (match := _filled(pattern).fullmatch(english)):
            return said.format(**{name: phrase(value, words) for name, value in match.groupdict().items()})
    return english


@lru_cache(maxsize=64)
def _filled(pattern: str) -> re.Pattern[str]:
    """Finds what the braces of a phrase hold."""
    return re.compile(re.sub(r"\\\{(\w+)\\\}", r"(?P<\1>.+)", re.escape(pattern)))


def from_small(words: str) -> str:
    """The words with their first letter in upper case, the rest as it is."""
    return words[:1].upper() + words[1:]


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
