"""Terms explained where a page first uses them: the site's own, and those that the theme knows.

A plate uses terms as text does, in its caption, its keys and at the ends of its survey bar.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from lessonpress.figures import BoundLesson, Plate
from lessonpress.manuscript import Site


@dataclass(frozen=True)
class Gloss:
    """meaning: Markdown, of one line."""

    term: str
    meaning: str


@dataclass(frozen=True)
class Term:
    """used: finds where a text uses the term."""

    gloss: Gloss
    used: re.Pattern[str]


def terms_of(site: Site, words: Mapping[str, Any]) -> tuple[Term, ...]:
    """The site's glossary, each term as a whole word, and the theme's terms that it does not have."""
    own = [
        Term(Gloss(term, meaning), re.compile(rf"(?<!\w){re.escape(term)}(?:s|es)?(?!\w)", re.IGNORECASE))
        for term, meaning in site.glossary.items()
    ]
    taken = {term.gloss.term.casefold() for term in own}
    known = [
        Term(Gloss(name, term["meaning"]), re.compile(term["used"], re.IGNORECASE))
        for name, term in words["terms"].items()
        if name.casefold() not in taken
    ]
    return (*own, *known)


class Glosses:
    """Gives each term once, at the first text that uses it."""

    def __init__(self, terms: tuple[Term, ...]) -> None:
        self._left = list(terms)

    def first_met_in(self, text: str) -> tuple[Gloss, ...]:
        """The terms not yet given that `text` uses, in the order in which it uses them."""
        met = [(match.start(), term) for term in self._left if (match := term.used.search(text))]
        self._left = [term for term in self._left if all(term is not one for _, one in met)]
        return tuple(term.gloss for _, term in sorted(met, key=lambda one: one[0]))


def words_on(plate: Plate, caption: str, bound: BoundLesson) -> str:
    """What a plate says to its reader. caption: in plain words."""
    keys = [key.words for key in plate.keys]
    ways = [bound.measures[name].way for name in plate.measures if name in bound.measures]
    bars = [
        f"toward {panel.bar.goal}, away from {panel.bar.goal}"
        for panel in plate.panels
        if panel.bar is not None
    ]
    return " ".join((caption, *keys, *ways, *bars))
