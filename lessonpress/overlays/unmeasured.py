"""What kinds without a measure share."""

from __future__ import annotations

from typing import Any

from lessonpress.overlays.fields import OverlayFields
from lessonpress.overlays.stage import Stage


def measure(fields: Any, stage: Stage) -> None:
    """Nothing: the kind is drawn only."""


def lettered(clause: str, fields: OverlayFields) -> str:
    """The clause with the author's label, which a reader without the picture would miss."""
    return clause if fields.label is None else f"{clause}, lettered “{fields.label}”"
