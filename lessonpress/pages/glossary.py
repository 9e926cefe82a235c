"""The site's terms, explained in the margin where a lesson first uses them."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass


@dataclass(frozen=True)
class Gloss:
    """meaning: Markdown, of one line."""

    term: str
    meaning: str


class Glosses:
    """Hands out each term of the glossary once, at the first text that uses it as a whole word."""

    def __init__(self, glossary: Mapping[str, str]) -> None:
        self._left = {
            term: (re.compile(rf"(?<!\w){re.escape(term)}(?:s|es)?(?!\w)", re.IGNORECASE), meaning)
            for term, meaning in glossary.items()
        }

    def first_met_in(self, text: str) -> tuple[Gloss, ...]:
        """The terms not yet handed out that `text` uses, in the order in which it uses them."""
        met = []
        for term, (pattern, meaning) in self._left.items():
            found = pattern.search(text)
            if found:
                met.append((found.start(), Gloss(term, meaning)))
        for _, gloss in met:
            del self._left[gloss.term]
        return tuple(gloss for _, gloss in sorted(met, key=lambda one: one[0]))
