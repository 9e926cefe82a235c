"""The topics of a site as a book's index: entries under letters, each with the lessons that treat of it."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterable
from dataclasses import dataclass

from lessonpress.figures import BoundLesson

_NUMBERS = "0–9"


@dataclass(frozen=True)
class Topic:
    """name: as first written. slug: its folder. lessons: oldest first, as an index counts."""

    name: str
    slug: str
    lessons: tuple[BoundLesson, ...]


@dataclass(frozen=True)
class Letter:
    letter: str
    topics: tuple[Topic, ...]


def topics_of(lessons: Iterable[BoundLesson]) -> tuple[Topic, ...]:
    """The topics of the lessons, in the order of the alphabet; case and spacing make no difference."""
    names: dict[str, str] = {}
    treated: dict[str, dict[str, BoundLesson]] = {}
    for bound in sorted(lessons, key=lambda one: (one.lesson.date, one.lesson.name)):
        for name in bound.lesson.topics:
            key = key_of(name)
            names.setdefault(key, name.strip())
            treated.setdefault(key, {})[bound.lesson.name] = bound
    slugs = _slugs(sorted(names, key=_sorting))
    return tuple(Topic(names[key], slugs[key], tuple(treated[key].values())) for key in slugs)


def letters_of(topics: Iterable[Topic]) -> tuple[Letter, ...]:
    """Topics, already in order, under their first letters; accents are left off, digits are together."""
    under: dict[str, list[Topic]] = {}
    for topic in topics:
        under.setdefault(_letter(topic.name), []).append(topic)
    return tuple(Letter(letter, tuple(entries)) for letter, entries in under.items())


def slugs_by_key(topics: Iterable[Topic]) -> dict[str, str]:
    """The folders of topics by `key_of` their names."""
    return {key_of(topic.name): topic.slug for topic in topics}


def slug_of(name: str) -> str:
    """A folder's name for a topic: its letters and digits in any script, joined by hyphens."""
    return re.sub(r"[\W_]+", "-", unicodedata.normalize("NFKC", name).casefold()).strip("-") or "topic"


def key_of(name: str) -> str:
    """What two spellings of one topic have in common."""
    return " ".join(unicodedata.normalize("NFKC", name).casefold().split())


def _slugs(keys: Iterable[str]) -> dict[str, str]:
    """Each key's own folder; names that differ only in signs are distinguished by a number."""
    given: dict[str, str] = {}
    taken: set[str] = set()
    for key in keys:
        slug, number = slug_of(key), 1
        while slug in taken:
            number += 1
            slug = f"{slug_of(key)}-{number}"
        taken.add(slug)
        given[key] = slug
    return given


def _sorting(name: str) -> tuple[list[tuple[int, str]], str]:
    """By letters without accents; numbers within by their size, so that 9 comes before 10."""
    parts = re.split(r"(\d+)", _bare(name))
    return [(int(part), "") if part.isdecimal() else (-1, part) for part in parts], name


def _bare(name: str) -> str:
    """Without accents, for the order of the alphabet."""
    apart = unicodedata.normalize("NFKD", name.casefold())
    return "".join(sign for sign in apart if not unicodedata.combining(sign))


def _letter(name: str) -> str:
    first = next((sign for sign in _bare(name) if sign.isalnum()), "")
    if first.isdigit():
        return _NUMBERS
    return first.upper() or "…"
