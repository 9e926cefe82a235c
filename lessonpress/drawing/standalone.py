"""A panel as a drawing of its own: picture, overlays, scale bar, credit. `formats/` makes files of it."""

from __future__ import annotations

import base64
from collections.abc import Iterable
from dataclasses import dataclass
from functools import cached_property

import svgwrite.container

from lessonpress.drawing import paper
from lessonpress.drawing.alone import (
    WIDTH,
    Label,
    credit_words,
    face_style,
    foot_of,
    lettered_foot,
)
from lessonpress.drawing.burning import PREFIX
from lessonpress.drawing.layout import Layout
from lessonpress.drawing.palette import GROUND, INK
from lessonpress.drawing.paper import Element, Piece, document, group, image, n, rect, sheet
from lessonpress.drawing.plate import layout_for, overlays
from lessonpress.drawing.scalebar import HEIGHT as BAR_HEIGHT
from lessonpress.drawing.scalebar import scale_bar
from lessonpress.figures import Panel
from lessonpress.measure import Units


def picture_type(picture: bytes) -> str:
    """The media type of a picture by its first bytes. Raises ValueError where it is none of ours."""
    if picture.startswith(b"\xff\xd8\xff"):
        return "image/jpeg"
    if picture.startswith(b"\x89PNG\r\n\x1a\n"):
        return "image/png"
    if picture[:4] == b"RIFF" and picture[8:12] == b"WEBP":
        return "image/webp"
    raise ValueError("a standalone drawing holds a JPEG, PNG or WebP picture, and this is none of them")


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


@dataclass(frozen=True)
class PanelAlone:
    """A panel that travels alone, laid out once for every file that is made of it. width: CSS px."""

    panel: Panel
    label: Label
    units: Units
    width: int = WIDTH

    @cached_property
    def layout(self) -> Layout:
        return layout_for(self.panel, float(self.width), mirrored=self.panel.mirrored)

    @cached_property
    def overlays(self) -> tuple[Element, ...]:
        """What lies on the picture, lowest first."""
        return tuple(overlays(self.panel, self.layout, PREFIX))

    @cached_property
    def below(self) -> Below:
        """What is lettered below the picture, its upper edge at 0."""
        return _below(self.panel, self.layout, self.label, self.units)

    @property
    def credit(self) -> str:
        return credit_words([self.panel.credit])

    @property
    def height(self) -> float:
        """CSS px of picture and what is below it. No tag need be placed to know it."""
        return self.layout.height + self.below.height

    def svg(self, href: str, *, faced: bool = True) -> str:
        """The panel as one SVG. href: of the crop, as filmed. faced: whether the face is put into it."""
        layout = self.layout
        drawing = sheet(layout.width, self.height, sized=True)
        drawing.embed_stylesheet(face_style() if faced else "")
        drawing.add(rect((0, 0), layout.width, self.height, fill=GROUND))
        drawing.add(_picture(href, layout))
        drawing.add(_framed(self.overlays, layout))
        drawing.add(group(self.below.elements, transform=f"translate(0,{n(layout.height)})"))
        drawing.set_desc(title=self.label.title, desc=self.label.description or None)
        return document(drawing)


def embedded(picture: bytes) -> str:
    """A JPEG, PNG or WebP as an address that holds it."""
    return f"data:{picture_type(picture)};base64,{base64.b64encode(picture).decode('ascii')}"


def _below(panel: Panel, layout: Layout, label: Label, units: Units) -> Below:
    foot = foot_of(label, credit_words([panel.credit]), layout.width)
    if not panel.bar:
        return Below((), foot.pieces(0.0), foot.height)
    bar = group(scale_bar(panel.bar, layout, units), color=INK)
    box = (0.0, 0.0, layout.width, BAR_HEIGHT)
    return Below((Piece((bar,), box),), foot.pieces(BAR_HEIGHT), BAR_HEIGHT + foot.height)


def _picture(href: str, layout: Layout) -> Element:
    turned = {"transform": f"translate({n(layout.width)},0) scale(-1,1)"} if layout.mirrored else {}
    return image(href, layout.width, layout.height, **turned)


def _framed(elements: Iterable[Element], layout: Layout) -> Element:
    """The overlays, held inside the picture: an inner svg element hides what runs over its edge."""
    inner = svgwrite.container.SVG(
        insert=("0", "0"), size=(n(layout.width), n(layout.height)), debug=paper.CHECKED
    )
    for element in elements:
        inner.add(element)
    return inner
