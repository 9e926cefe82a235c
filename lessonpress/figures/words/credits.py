"""Whose footage or a picture is, as every figure made from it says."""

from __future__ import annotations

from lessonpress.figures.plates import Credit
from lessonpress.manuscript import Source


def credit_of(source: Source) -> Credit:
    """The credit, licence and address that a card gives its source."""
    return Credit(source.credit or "", source.licence or "", source.url)
