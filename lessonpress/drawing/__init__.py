"""Shapes → SVG and PNG: palette, strokes, signs, placing of tags, scale bars, charts, standalone drawings.

Everything is laid out in CSS px of the picture as shown. Geometry scales with the picture; strokes, signs
and tags keep their sizes. A format of the drawings that travel alone is a module and a row in `formats/`.
"""

from lessonpress.drawing.alone import KeyLine, Label
from lessonpress.drawing.burning import burned
from lessonpress.drawing.chart import chart_svg
from lessonpress.drawing.formats.table import FORMATS
from lessonpress.drawing.plate import plate_svg
from lessonpress.drawing.scalebar import scale_bar_svg
from lessonpress.drawing.standalone_chart import DateWords

__all__ = [
    "FORMATS",
    "DateWords",
    "KeyLine",
    "Label",
    "burned",
    "chart_svg",
    "plate_svg",
    "scale_bar_svg",
]
