"""Overlay kinds: what may be drawn on a picture, what each measures, and how it is said.

A kind is one module of `kinds/` with the names of `kind.OverlayKind`, and a row in `kinds/table.py`. What
kinds share is in `parts/`. Overlays say what is drawn, in picture coordinates (`shapes.py`); they know
nothing of SVG. Look up a kind by its key in KINDS, read what an author wrote with `read_overlay`, write out
named sets with `expand`, check meaning with `check_scale` and `check_marks`.
"""

from lessonpress.overlays.checks import check_marks, check_scale
from lessonpress.overlays.kind import Outcome, OverlayKind, measures
from lessonpress.overlays.kinds.table import KINDS
from lessonpress.overlays.parts.context import Context
from lessonpress.overlays.parts.fields import OverlayFields, Question
from lessonpress.overlays.reading import Sets, expand, read_overlay
from lessonpress.overlays.words import Words

__all__ = [
    "KINDS",
    "Context",
    "Outcome",
    "OverlayFields",
    "OverlayKind",
    "Question",
    "Sets",
    "Words",
    "check_marks",
    "check_scale",
    "expand",
    "measures",
    "read_overlay",
]
