"""The card of a still picture, `bag-drill.jpg.yaml` beside `bag-drill.jpg`: whose it is, and what is blurred.

It lies beside its picture, as a clip's does, and not in site.yaml: who copies, moves or deletes the picture
does the same with its consent. It has the picture's whole name, so that no two pictures share one.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from datetime import date
from typing import ClassVar

from pydantic import Field

from lessonpress.manuscript.fields.fieldtypes import Meant, Number, PixelsText
from lessonpress.manuscript.fields.wording import Words
from lessonpress.manuscript.fields.written import Written, read_fields, required
from lessonpress.manuscript.rights.checks import Shown, check_people, check_source, rights_ended
from lessonpress.manuscript.rights.rights import Person, Source, missing_rights
from lessonpress.manuscript.text.passage import Passage
from lessonpress.manuscript.yaml.nodes import compose_yaml
from lessonpress.records import Problems

STILL_CARD_SUFFIX = ".yaml"
_STAND_INS = {"source": {"kind": "own"}, "people": []}


class Disc(Written):
    """A disc to be blurred. at: its centre, px of the upright picture; across: its diameter, px."""

    at: tuple[Number, Number] = Field(examples=["[812, 240]"])
    across: PixelsText = Field(examples=["120 px"])


class StillCard(Written):
    """Every key of the card of a picture."""

    MISSING: ClassVar[dict[str, Words]] = missing_rights("picture")

    source: Source
    people: tuple[Person, ...]
    obscure: tuple[Disc, ...] = ()
    meant: Meant = Field(default_factory=dict)


def still_card_of(path: str) -> str:
    """Where the card of a picture lies; both paths from the site's folder."""
    return path + STILL_CARD_SUFFIX


def read_still_card(
    passage: Passage, today: date, problems: Problems, texts: Callable[[], Sequence[str]] = tuple
) -> StillCard | None:
    """A card from its text, all its mistakes reported; None where a key that it needs is missing or wrong.

    texts: the files of those that show the picture, asked for where its rights have ended.
    """
    card = read_fields(StillCard, compose_yaml(passage, problems), problems, _STAND_INS)
    if card is None:
        return None
    wrong = card.lost_keys
    still = passage.path.removesuffix(STILL_CARD_SUFFIX)
    shown = Shown("picture", still, "picture", texts() if rights_ended(card, today) else ())
    if "people" not in wrong:
        check_people(card, today, shown, problems)
    if "source" not in wrong:
        check_source(card, today, shown, problems)
    return card if wrong.isdisjoint(required(StillCard)) else None
