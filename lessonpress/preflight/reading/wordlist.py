"""The word lists of a language, `preflight/words/LANGUAGE.yaml`: all that rules know of how it is spoken."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache, cached_property
from pathlib import Path
from re import Pattern
from typing import Any

from lessonpress.manuscript import plain_yaml

_FOLDER = Path(__file__).resolve().parent.parent / "words"


@dataclass(frozen=True)
class WordList:
    """lists: by name; see the comments of `words/en.yaml` for what each is."""

    lists: Mapping[str, Any]

    def any_of(self, name: str) -> Pattern[str]:
        """A pattern of whole words: any entry of a list, each a regular expression."""
        return _joined(tuple(self.lists[name]))

    def one_of(self, table: str, key: str) -> Pattern[str] | None:
        """The same for an entry of a table; None where the table has none."""
        entry = self.lists[table].get(key)
        return None if entry is None else _joined((entry,))

    def any_of_table(self, table: str) -> Pattern[str]:
        """A pattern of whole words: any entry of a table."""
        return _joined(tuple(self.lists[table].values()))

    def near(self, name: str) -> int:
        """How many characters about a word are looked at for another; 0 for none."""
        reach: Mapping[str, int] = self.lists["near"]
        return reach[name]

    @cached_property
    def decimal(self) -> str:
        """The sign before tenths; a point or a comma that is not it may part thousands."""
        sign: str = self.lists["decimal"]
        return sign

    @cached_property
    def number_words(self) -> Mapping[str, float]:
        words: Mapping[str, float] = self.lists["numbers"]
        return words

    @cached_property
    def units(self) -> Mapping[str, str]:
        """Unit, as `quantities.py` knows it, by a regular expression of how it is written."""
        return {written: unit for unit, ways in self.lists["units"].items() for written in ways}


@cache
def _joined(entries: tuple[str, ...]) -> Pattern[str]:
    alternatives = "|".join(entry.replace(" ", r"\s+") for entry in entries)
    return re.compile(rf"(?<!\w)(?:{alternatives})(?!\w)", re.IGNORECASE)


@cache
def word_list(language: str) -> WordList | None:
    """The lists of a BCP 47 tag's language, None where there are none."""
    name = language.partition("-")[0].lower()
    file = _FOLDER / f"{name}.yaml"
    if not name.isalpha() or not file.is_file():
        return None
    return WordList(plain_yaml(file.read_text(encoding="utf-8")))
