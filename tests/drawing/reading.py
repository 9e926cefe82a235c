"""Reading SVG and PNG back: elements, places, pixels."""

from __future__ import annotations

import io
import re
from xml.etree import ElementTree

import numpy as np
from numpy.typing import NDArray
from PIL import Image

from lessonpress.drawing.rendering import render_png

SVG = "{http://www.w3.org/2000/svg}"


def parsed(inline: str) -> ElementTree.Element:
    """An inline SVG as a tree; raises where it is not well-formed."""
    return ElementTree.fromstring(inline)


def place(element: ElementTree.Element) -> tuple[float, float]:
    """Where a group's transform moves it."""
    found = re.match(r"translate\((-?[\d.]+),(-?[\d.]+)\)", element.attrib["transform"])
    assert found, element.attrib
    return float(found[1]), float(found[2])


def scene(root: ElementTree.Element) -> ElementTree.Element:
    """What grows with the picture in a plate's overlay; its viewBox is in CSS px."""
    return next(child for child in root if "viewBox" in child.attrib)


def tags_on(root: ElementTree.Element) -> list[tuple[ElementTree.Element, tuple[float, float]]]:
    """Each tag of a plate's overlay with its upper left corner at the width it was laid out for, CSS px."""
    width, height = (float(side) for side in scene(root).attrib["viewBox"].split()[2:])
    found = []
    for pin in (pin for pins in of_class(root, "tags") for pin in pins):
        (tag,) = of_class(pin, "tag")
        x, y = (float(pin.attrib[key].removesuffix("%")) / 100 for key in "xy")
        dx, dy = place(tag)
        found.append((tag, (x * width + dx, y * height + dy)))
    return found


def of_class(root: ElementTree.Element, name: str) -> list[ElementTree.Element]:
    return [element for element in root.iter() if element.get("class") == name]


def pixels(png: bytes) -> NDArray[np.int16]:
    """RGB (h, w, 3) of a PNG."""
    return np.asarray(Image.open(io.BytesIO(png)).convert("RGB"), dtype=np.int16)


def rendered(elements: str, width: int, height: int, zoom: float = 1.0) -> NDArray[np.int16]:
    """Pixels of SVG elements on middle grey."""
    ground = f'<rect width="{width}" height="{height}" fill="#808080"/>'
    size = f'width="{width}" height="{height}" viewBox="0 0 {width} {height}"'
    svg = f'<svg xmlns="http://www.w3.org/2000/svg" {size} fill="none">{ground}{elements}</svg>'
    return pixels(render_png(svg, zoom))


def rgb(colour: str) -> tuple[int, int, int]:
    return int(colour[1:3], 16), int(colour[3:5], 16), int(colour[5:7], 16)


def near(picture: NDArray[np.int16], colour: str, by: int = 12) -> NDArray[np.bool_]:
    """Where a picture has a colour, give or take `by` in each channel."""
    close: NDArray[np.bool_] = (np.abs(picture - np.array(rgb(colour))) <= by).all(axis=-1)
    return close


def contrast(one: str, other: str) -> float:
    """Contrast ratio, WCAG 2.2, "relative luminance" and "contrast ratio"."""

    def luminance(colour: str) -> float:
        linear = [
            c / 12.92 if c <= 0.04045 else ((c + 0.055) / 1.055) ** 2.4
            for c in (v / 255 for v in rgb(colour))
        ]
        return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]

    low, high = sorted((luminance(one), luminance(other)))
    return (high + 0.05) / (low + 0.05)
