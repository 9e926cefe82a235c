"""What every drawing that travels alone has: heading and credit lettered below, face and facts inside it."""

from __future__ import annotations

import base64
from collections.abc import Iterable
from dataclasses import dataclass
from functools import cache
from io import BytesIO

import resvg_py
from PIL import Image
from PIL.PngImagePlugin import PngInfo

from lessonpress.drawing.faces import face_files, woff2_file, wrapped
from lessonpress.drawing.palette import INK
from lessonpress.drawing.paper import FAMILY, Element, group, n, text
from lessonpress.figures.plates import Credit

WIDTH = 640.0  # CSS px
GROUND = "#FFFFFF"
FOOT_SIZE = 13.0  # CSS px of the heading and credit at the foot
FOOT_LINE = 18.0
FOOT_MARGIN = 10.0


@dataclass(frozen=True)
class Label:
    """What a drawing says of itself. title, description: what a screen reader says, and a PNG carries within.

    heading: lettered at the lower left ("Plate II · Impact"), before the credit.
    """

    title: str
    description: str = ""
    heading: str = ""


def credit_words(credits: Iterable[Credit]) -> str:
    """Each credit with its licence."""
    said = (", ".join(part for part in (credit.text, credit.licence) if part) for credit in credits)
    return "; ".join(dict.fromkeys(words for words in said if words))


def foot_lines(heading: str, credit: str, width: float) -> list[tuple[str, int]]:
    """The lines at the foot with their weights: the heading, then the credit."""
    room = width - 2 * FOOT_MARGIN
    lines = [(line, 700) for line in wrapped(heading, FOOT_SIZE, 700, room)]
    return lines + [(line, 500) for line in wrapped(credit, FOOT_SIZE, 500, room)]


def foot_height(foot: list[tuple[str, int]]) -> float:
    return FOOT_LINE * len(foot) + FOOT_MARGIN if foot else 0.0


def lettered_foot(foot: list[tuple[str, int]], top: float) -> Element:
    lines = [
        text(words, (FOOT_MARGIN, top + FOOT_LINE * (k + 1)), font_weight=weight)
        for k, (words, weight) in enumerate(foot)
    ]
    return group(lines, font_family=FAMILY, font_size=n(FOOT_SIZE), fill=INK, class_="foot")


@cache
def face_style() -> str:
    """The plate face inside the file, so that a drawing that travels alone is lettered as it was measured."""
    data = base64.b64encode(woff2_file().read_bytes()).decode("ascii")
    return (
        '@font-face{font-family:"National Park";font-weight:400 700;'
        f"src:url(data:font/woff2;base64,{data})}}.value{{font-weight:650}}"
    )


def render_png(svg: str, zoom: float) -> bytes:
    """An SVG of ours as PNG. Raises ValueError where it is no SVG."""
    rendered = resvg_py.svg_to_bytes(
        svg_string=svg,
        zoom=zoom,
        skip_system_fonts=True,
        font_files=[str(path) for path in face_files()],
        font_family="National Park",
    )
    return bytes(rendered)


def written_png(whole: Image.Image, label: Label, credit: str) -> bytes:
    """PNG of 256 colours: a quarter of the bytes, the overlays' colours kept to one step in 255 (tried).

    Title, description and credit travel inside the file, under the keywords of the PNG specification (W3C
    PNG, third edition, 11.3.3.1), where picture libraries and mail programs look for them.
    """
    told = PngInfo()
    for keyword, words in (("Title", label.title), ("Description", label.description), ("Copyright", credit)):
        if words:
            told.add_itxt(keyword, words)
    written = BytesIO()
    whole.quantize(256, method=Image.Quantize.FASTOCTREE).save(written, "PNG", pnginfo=told)
    return written.getvalue()
