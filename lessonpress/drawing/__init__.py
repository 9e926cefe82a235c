"""Shapes → SVG and PNG: palette, strokes, signs, placing of tags, scale bars, charts, standalone drawings.

Everything is laid out in CSS px of the picture as shown. Geometry scales with the picture; strokes, signs
and tags keep their sizes.
"""

from lessonpress.drawing.alone import KeyLine, Label
from lessonpress.drawing.burned import burned
from lessonpress.drawing.chart import chart_svg
from lessonpress.drawing.plate import Edition, plate_svg
from lessonpress.drawing.scalebar import scale_bar_svg
from lessonpress.drawing.standalone import standalone_png, standalone_svg
from lessonpress.drawing.standalone_chart import standalone_chart_png, standalone_chart_svg

__all__ = [
    "Edition",
    "KeyLine",
    "Label",
    "burned",
    "chart_svg",
    "plate_svg",
    "scale_bar_svg",
    "standalone_chart_png",
    "standalone_chart_svg",
    "standalone_png",
    "standalone_svg",
]
