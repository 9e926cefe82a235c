"""Shapes → SVG and PNG: palette, strokes, signs, placing of tags, scale bars, charts, standalone drawings.

Everything is laid out in CSS px of the picture as shown. Geometry scales with the picture; strokes, signs
and tags keep their sizes. A format of the drawings that travel alone is a module and a row in `formats/`.
"""

import lazy_loader

__getattr__, __dir__, __all__ = lazy_loader.attach_stub(__name__, __file__)
