"""A panel as a drawing of its own: picture, overlays, scale bar, credit. `formats/` makes files of it."""

from __future__ import annotations

import base64
from dataclasses import dataclass

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
from lessonpress.drawing.paper import Element, Piece, document, group, image, n, rect, sheet
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
    under = below(panel, layout, label, units, top=layout.height)
    drawing = sheet(layout.width, layout.height + under.height, sized=True)
    drawing.embed_stylesheet(face_style())
    drawing.add(rect((0, 0), layout.width, layout.height + under.height, fill=GROUND))
    drawing.add(_picture(picture, layout))
    drawing.add(_framed(overlays(panel, layout, PREFIX), layout))
    for element in under.elements:
        drawing.add(element)
    drawing.set_desc(title=label.title, desc=label.description or None)
    return document(drawing)


@dataclass(frozen=True)
class Below:
    """What is lettered below a picture: its bar, where it has one, and the lines of its foot."""

    bar: tuple[Piece, ...]
    lines: tuple[Piece, ...]
    height: float  # CSS px

    @property
    def elements(self) -> list[Element]:
        lines = [element for line in self.lines for element in line.elements]
        return [*(element for bar in self.bar for element in bar.elements), lettered_foot(lines)]

    @property
    def pieces(self) -> list[Piece]:
        """The same in pieces, none of which lies in another's box."""
        return [*self.bar, *(line._replace(elements=(lettered_foot(line.elements),)) for line in self.lines)]


def below(panel: Panel, layout: Layout, label: Label, units: Units, *, top: float) -> Below:
    """What is lettered below a panel's picture, its upper edge at `top`, CSS px."""
    foot = foot_of(label, credit_words([panel.credit]), layout.width)
    if not panel.bar:
        return Below((), foot.pieces(top), foot.height)
    moved = f"translate(0,{n(top)})"
    bar = group(scale_bar(panel.bar, layout, units), transform=moved, color=INK)
    box = (0.0, top, layout.width, top + BAR_HEIGHT)
    return Below((Piece((bar,), box),), foot.pieces(top + BAR_HEIGHT), BAR_HEIGHT + foot.height)


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
