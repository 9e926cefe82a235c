"""Overlay kinds: what may be drawn on a picture, what each measures, and how it is said.

A kind is one module with the names of `kind.OverlayKind` and a row in KINDS. Overlays say what is drawn, in
picture coordinates; they know nothing of SVG. Look up a kind by its key with `kind_named`, read what an
author wrote with `read_overlay`, write out named sets with `expand`, check meaning with `check_scale` and
`check_marks`.
"""

from lessonpress.overlays.checks import check_marks, check_scale
from lessonpress.overlays.fields import OverlayFields
from lessonpress.overlays.kind import Outcome, OverlayKind
from lessonpress.overlays.kinds import KINDS, kind_named
from lessonpress.overlays.reading import Sets, expand, read_overlay
from lessonpress.overlays.stage import Stage
from lessonpress.overlays.words import Words

__all__ = [
    "KINDS",
    "Outcome",
    "OverlayFields",
    "OverlayKind",
    "Sets",
    "Stage",
    "Words",
    "check_marks",
    "check_scale",
    "expand",
    "kind_named",
    "read_overlay",
]
