"""Texts that open more brackets than any author writes: reading them takes work for each, many times over."""

from __future__ import annotations

from itertools import islice

from lessonpress.manuscript.text.passage import Passage
from lessonpress.records import Problems

MOST_OPENED = 40_000  # of a kind; thousands of figures and links stay below
_OPENINGS = "[{"


def is_crowded(body: Passage, problems: Problems) -> bool:
    """Whether a text is too crowded to be read, once that is reported where it becomes so."""
    for sign in _OPENINGS:
        if body.text.count(sign) > MOST_OPENED:
            places = (at for at, written in enumerate(body.text) if written == sign)
            at = next(islice(places, MOST_OPENED, None))
            wrong = f"the text opens more than {MOST_OPENED:,} `{sign}`"
            problems.error(body.at(at), wrong, "take out what no one reads, or part it in several")
            return True
    return False
