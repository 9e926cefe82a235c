"""Overlay kinds: what may be drawn on a picture, what each measures, and how it is said.

A kind is one module of `kinds/` with the names of `kind.OverlayKind`, and a row in `kinds/table.py`. What
kinds share is in `parts/`. Overlays say what is drawn, in picture coordinates (`shapes.py`); they know
nothing of SVG. Look up a kind by its key in KINDS, read what an author wrote with `read_overlay`, write out
named sets with `expand`, check meaning with `check_scale` and `check_marks`.
"""

import lazy_loader

__getattr__, __dir__, __all__ = lazy_loader.attach_stub(__name__, __file__)
