"""The few svgwrite elements the drawings are made of, and the text they become.

Coordinates are CSS px rounded to 0.1. `CHECKED` turns on svgwrite's validation against SVG 1.1, which the
tests do; a press draws the same elements without it, several times faster.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import Any, NamedTuple
from xml.etree import ElementTree

import svgwrite
import svgwrite.container
import svgwrite.drawing
import svgwrite.image
import svgwrite.path
import svgwrite.pattern
import svgwrite.shapes
import svgwrite.text

from lessonpress.records import Point

CHECKED = False
Element = Any  # svgwrite carries no types


class Piece(NamedTuple):
    """Elements of a drawing and the box that all of their ink lies in: left, top, right, bottom, CSS px."""

    elements: tuple[Element, ...]
    box: tuple[float, float, float, float]


FAMILY = "National Park,Avenir Next,Segoe UI,Roboto,sans-serif"


def n(value: float) -> str:
    """A coordinate as compact text: at most one decimal, no trailing zero, no minus before zero."""
    text = f"{value:.1f}".removesuffix(".0")
    return "0" if text == "-0" else text


def fine(value: float) -> str:
    """A width or opacity as compact text with at most two decimals."""
    text = f"{value:.2f}".rstrip("0").rstrip(".")
    return "0" if text in ("-0", "") else text


def pair(point: Point) -> str:
    return f"{n(point[0])} {n(point[1])}"


def way(points: Iterable[Point], closed: bool = False) -> str:
    """Path data through the points."""
    return "M" + "L".join(pair(point) for point in points) + ("Z" if closed else "")


class Marked(svgwrite.container.Group):  # type: ignore[misc]
    """A group with `data-` attributes, which SVG 1.1 leaves to the page and its validation does not know."""

    def __init__(self, data: Mapping[str, str], **attributes: Any) -> None:
        super().__init__(debug=CHECKED, **attributes)
        self._data = dict(data)

    def get_xml(self) -> ElementTree.Element:
        xml: ElementTree.Element = super().get_xml()
        for key, value in self._data.items():
            xml.set(f"data-{key}", value)
        return xml


def group(
    elements: Iterable[Element] = (), data: Mapping[str, str] | None = None, **attributes: Any
) -> Element:
    made = Marked(data or {}, **attributes)
    for element in elements:
        made.add(element)
    return made


def path(d: str, **attributes: Any) -> Element:
    return svgwrite.path.Path(d=d, debug=CHECKED, **attributes)


def circle(radius: float, centre: Point = (0.0, 0.0), **attributes: Any) -> Element:
    return svgwrite.shapes.Circle(
        center=(n(centre[0]), n(centre[1])), r=fine(radius), debug=CHECKED, **attributes
    )


def rect(corner: Point, width: float, height: float, **attributes: Any) -> Element:
    at = (n(corner[0]), n(corner[1]))
    return svgwrite.shapes.Rect(insert=at, size=(n(width), n(height)), debug=CHECKED, **attributes)


def text(words: str, at: Point, **attributes: Any) -> Element:
    return svgwrite.text.Text(words, insert=(n(at[0]), n(at[1])), debug=CHECKED, **attributes)


def tspan(words: str, **attributes: Any) -> Element:
    return svgwrite.text.TSpan(words, debug=CHECKED, **attributes)


def pattern(identity: str, step: float, elements: Iterable[Element], **attributes: Any) -> Element:
    made = svgwrite.pattern.Pattern(
        id=identity, size=(n(step), n(step)), patternUnits="userSpaceOnUse", debug=CHECKED, **attributes
    )
    for element in elements:
        made.add(element)
    return made


def image(href: str, width: float, height: float, **attributes: Any) -> Element:
    made = svgwrite.image.Image(
        href=href, insert=("0", "0"), size=(n(width), n(height)), debug=CHECKED, **attributes
    )
    made.stretch()
    return made


def sheet(width: float, height: float, *, sized: bool) -> Element:
    """An empty drawing of width × height CSS px; `sized` writes that size on it."""
    extra = {"viewBox": f"0 0 {n(width)} {n(height)}"}
    size = (n(width), n(height)) if sized else ("100%", "100%")
    return svgwrite.drawing.Drawing(size=size, debug=CHECKED, **extra)


def unscaled() -> Element:
    """An empty drawing whose units are CSS px of the place where it is shown, however wide that is."""
    return svgwrite.drawing.Drawing(size=("100%", "100%"), debug=CHECKED)


def scaled(elements: Iterable[Element], width: float, height: float) -> Element:
    """What is laid out for width × height CSS px and grows with its place in an unscaled drawing."""
    extra = {"viewBox": f"0 0 {n(width)} {n(height)}"}
    made = svgwrite.container.SVG(size=("100%", "100%"), debug=CHECKED, **extra)
    for element in elements:
        made.add(element)
    return made


def pinned(element: Element, share: Point) -> Element:
    """What keeps its size, its origin at a share of the width and of the height of an unscaled drawing."""
    at = tuple(f"{fine(100 * part)}%" for part in share)
    made = svgwrite.container.SVG(insert=at, size=("1", "1"), overflow="visible", debug=CHECKED)
    made.add(element)
    return made


def inline(drawing: Element, css_class: str) -> str:
    """The drawing as it is inside a page: hidden from assistive technology, which reads the alt text.

    HTML parsers supply the namespaces, so they and the size are left to the page.
    """
    root: ElementTree.Element = drawing.get_xml()
    kept = {"class": css_class, "aria-hidden": "true", "focusable": "false"}
    if "viewBox" in root.attrib:
        kept["viewBox"] = root.attrib["viewBox"]
    for parent in list(root.iter()):
        for empty in [child for child in parent if child.tag == "defs" and not len(child)]:
            parent.remove(empty)
    root.attrib.clear()
    root.attrib.update(kept)
    return ElementTree.tostring(root, encoding="unicode")


def document(drawing: Element) -> str:
    """The drawing as a file of its own."""
    root: ElementTree.Element = drawing.get_xml()
    del root.attrib["xmlns:ev"]
    return '<?xml version="1.0" encoding="UTF-8"?>\n' + ElementTree.tostring(root, encoding="unicode") + "\n"
