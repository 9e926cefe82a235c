"""What kinds without a measure share."""

from __future__ import annotations

from typing import Any

from lessonpress.overlays.parts.context import Context
from lessonpress.overlays.parts.fields import OverlayFields


def measure_nothing(fields: Any, context: Context) -> None:
    """Nothing: the kind is drawn only."""


def lettered(clause: str, fields: OverlayFields) -> str:
    """The clause with the author's label, which a reader without the picture would miss."""
    return clause if fields.label is None else f"{clause}, lettered “{fields.label}”"
