"""A panel as a drawing of its own: picture, overlays, scale bar, credit. `formats/` makes files of it."""

from __future__ import annotations

import base64

import svgwrite.container

from lessonpress.drawing import paper
from lessonpress.drawing.alone import (
    Label,
    credit_words,
    face_style,
    foot_of,
    lettered_foot,
)
from lessonpress.drawing.layout import Layout
from lessonpress.drawing.palette import GROUND, INK
from lessonpress.drawing.paper import Element, document, group, image, n, rect, sheet
from lessonpress.drawing.plate import layout_for, overlays
from lessonpress.drawing.scalebar import HEIGHT as BAR_HEIGHT
from lessonpress.drawing.scalebar import scale_bar
from lessonpress.figures import Panel
from lessonpress.measure import Units

PREFIX = "lp"  # of ids: the drawing is alone in its file


def picture_type(picture: bytes) -> str:
    """The media type of a picture by its first bytes. Raises ValueError where it is none of ours."""
    if picture.startswith(b"\xff\xd8\xff"):
        return "image/jpeg"
    if picture.startswith(b"\x89PNG\r\n\x1a\n"):
        return "image/png"
    if picture[:4] == b"RIFF" and picture[8:12] == b"WEBP":
        return "image/webp"
    raise ValueError("a standalone drawing holds a JPEG, PNG or WebP picture, and this is none of them")


def drawn_panel(
    panel: Panel, picture: bytes, label: Label, units: Units, width: float, mirrored: bool
) -> str:
    """The panel as one SVG, the plate face inside it. picture: the crop, as filmed."""
    layout = layout_for(panel, width, mirrored=mirrored)
    lettered, height = below(panel, layout, label, units, top=layout.height)
    drawing = sheet(layout.width, layout.height + height, sized=True)
    drawing.embed_stylesheet(face_style())
    drawing.add(rect((0, 0), layout.width, layout.height + height, fill=GROUND))
    drawing.add(_picture(picture, layout))
    drawing.add(_framed(overlays(panel, layout, PREFIX), layout))
    for element in lettered:
        drawing.add(element)
    drawing.set_desc(title=label.title, desc=label.description or None)
    return document(drawing)


def below(
    panel: Panel, layout: Layout, label: Label, units: Units, *, top: float
) -> tuple[list[Element], float]:
    """What is lettered below a panel's picture, its upper edge at `top`; how high it is, CSS px."""
    bar_height = BAR_HEIGHT if panel.bar else 0.0
    foot = foot_of(label, credit_words([panel.credit]), layout.width)
    elements = [lettered_foot(foot, top + bar_height)]
    if panel.bar:
        moved = f"translate(0,{n(top)})"
        elements.insert(0, group(scale_bar(panel.bar, layout, units), transform=moved, color=INK))
    return elements, bar_height + foot.height


def _picture(picture: bytes, layout: Layout) -> Element:
    data = base64.b64encode(picture).decode("ascii")
    turned = {"transform": f"translate({n(layout.width)},0) scale(-1,1)"} if layout.mirrored else {}
    return image(f"data:{picture_type(picture)};base64,{data}", layout.width, layout.height, **turned)


def _framed(elements: list[Element], layout: Layout) -> Element:
    """The overlays, held inside the picture: an inner svg element hides what runs over its edge."""
    inner = svgwrite.container.SVG(
        insert=("0", "0"), size=(n(layout.width), n(layout.height)), debug=paper.CHECKED
    )
    for element in elements:
        inner.add(element)
    return inner
