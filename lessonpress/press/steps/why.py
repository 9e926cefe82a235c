"""What a press made again and which input caused it, in words."""

from __future__ import annotations

from typing import NamedTuple

from lessonpress.press.steps.inputs import PACKAGED
from lessonpress.press.steps.table import STEPS
from lessonpress.press.steps.uses import Key
from lessonpress.press.steps.works import NEW, Works


class Redone(NamedTuple):
    """A product and the input that it was made again because of; "" for one that was not there before."""

    product: str
    because: str

    def __str__(self) -> str:
        return f"{self.product}: {f'because of {self.because}' if self.because else 'for the first time'}"


def redone_in(works: Works) -> tuple[Redone, ...]:
    """In the order in which they were made."""
    return tuple(Redone(said(key), _root(key, works)) for key in works.redone)


def _root(key: Key, works: Works) -> str:
    """The input behind it: what was made again because of another product is so because of that one's."""
    seen: set[Key] = set()
    while key[0] in STEPS and key not in seen:
        seen.add(key)
        because = works.redone.get(key) or works.found_again_because(key)
        if because is None:
            break
        if because == NEW:
            return "" if len(seen) == 1 else f"{said(key)}, which is new"
        if because == key:
            return "what was kept of it, which has gone or gone bad"
        key = (because[0], because[1], "")
    return said(key)


def said(key: Key) -> str:
    """A product or an input in words."""
    step, of, _ = key
    if step in STEPS:
        return STEPS[step].says.format(of=of)
    words = {
        "file": of.removeprefix(PACKAGED),
        "folder": f"what lies in {of or 'the site'}",
        "tree": f"what lies in {of} and below",
        "day": "the day",
        "asked": f"what was asked for ({of})",
        "program": "the program, which has changed",
        "library": f"the library {of}, which has changed",
    }
    return words[step]
