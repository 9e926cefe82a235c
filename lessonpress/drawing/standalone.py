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
    panel: Panel,
    picture: bytes | None,
    label: Label,
    units: Units,
    width: float,
    mirrored: bool,
    *,
    faced: bool,
) -> str:
    """The panel as one SVG. picture: the crop, as filmed; None leaves it out, to be laid under it.

    faced: whether the plate face is put into it.
    """
    layout = layout_for(panel, width, mirrored=mirrored)
    bar_height = BAR_HEIGHT if panel.bar else 0.0
    foot = foot_of(label, credit_words([panel.credit]), layout.width)
    drawing = sheet(layout.width, layout.height + bar_height + foot.height, sized=True)
    if faced:
        drawing.embed_stylesheet(face_style())
    if picture is not None:
        drawing.add(rect((0, 0), layout.width, layout.height + bar_height + foot.height, fill=GROUND))
        drawing.add(_picture(picture, layout))
    drawing.add(_framed(overlays(panel, layout, PREFIX), layout))
    if panel.bar:
        moved = f"translate(0,{n(layout.height)})"
        drawing.add(group(scale_bar(panel.bar, layout, units), transform=moved, color=INK))
    drawing.add(lettered_foot(foot, layout.height + bar_height))
    drawing.set_desc(title=label.title, desc=label.description or None)
    return document(drawing)


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
