"""SVG made into PNG: one renderer, by two libraries that hold it.

Both give the same bytes. The one for drawings of ours packs a PNG in a third of the time, and reads a drawing
once for all its parts; but it panics over what is no SVG, so what others drew goes to the other.
"""

from __future__ import annotations

import math
import threading

import resvg_py
from resvg import render, usvg

from lessonpress.drawing.tags.faces import face_files

_FACE = "National Park"
_OF_THREAD = threading.local()  # what the library makes must stay in the thread that made it


class Readied:
    """A drawing of ours, read once; for the thread that made this."""

    def __init__(self, svg: str) -> None:
        self._tree = usvg.Tree.from_str(svg, _options())

    def whole(self, zoom: float = 1.0) -> bytes:
        """All of it as PNG, `zoom` px to each of its own."""
        width, height = self._tree.int_size()
        return self.part((0, 0), (math.floor(zoom * width + 0.5), math.floor(zoom * height + 0.5)), zoom)

    def part(self, corner: tuple[int, int], size: tuple[int, int], zoom: float) -> bytes:
        """A part of it as PNG. corner: left and top; in px of the drawing at that zoom, as size is."""
        left, top = corner
        return render(self._tree, (zoom, 0.0, -left, 0.0, zoom, -top), bg_size=size)


def render_png(svg: str, zoom: float) -> bytes:
    """An SVG that anyone may have drawn as PNG. Raises ValueError where it is no SVG."""
    made = resvg_py.svg_to_bytes(
        svg_string=svg,
        zoom=zoom,
        skip_system_fonts=True,
        font_files=[str(path) for path in face_files()],
        font_family=_FACE,
    )
    return bytes(made)


def _options() -> usvg.Options:
    """How drawings of ours are read: with our faces and no others."""
    if not hasattr(_OF_THREAD, "options"):
        options = usvg.Options.default()
        options.font_family = _FACE
        for path in face_files():
            options.load_font_file(str(path))
        _OF_THREAD.options = options
    made: usvg.Options = _OF_THREAD.options
    return made
