"""Whose a clip's footage is, as every figure made from it says."""

from __future__ import annotations

from lessonpress.figures.plates import Credit
from lessonpress.manuscript import Card


def credit_of(card: Card) -> Credit:
    """The credit, licence and address that the card gives its source."""
    return Credit(card.source.credit or "", card.source.licence or "", card.source.url)
