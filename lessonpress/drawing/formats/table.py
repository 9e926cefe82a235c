"""The table of formats; pages, outlets and the press read it, and nothing else lists them."""

from __future__ import annotations

from collections.abc import Mapping

from lessonpress.drawing.formats import png, svg
from lessonpress.drawing.formats.format import Format

# in the order in which a page links them
_IN_ORDER: tuple[Format, ...] = (svg, png)

# by suffix
FORMATS: Mapping[str, Format] = {one.SUFFIX: one for one in _IN_ORDER}
