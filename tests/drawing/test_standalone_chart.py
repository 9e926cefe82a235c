"""A chart that travels alone says by itself what it shows, and is painted where its numbers say."""

from __future__ import annotations

import io
import re
from dataclasses import replace
from datetime import date

import numpy as np
import pytest
from PIL import Image
from playwright.sync_api import Page

from lessonpress.drawing import Label
from lessonpress.drawing.formats import png as as_png
from lessonpress.drawing.formats import svg as as_svg
from lessonpress.drawing.palette import STAMP
from lessonpress.drawing.standalone_chart import ChartAlone
from lessonpress.figures.plates import Credit
from tests.drawing.reading import SVG, contrast, near, of_class, parsed, pixels
from tests.drawing.test_chart import CHART, words

WITH_CREDIT = replace(CHART, credits=(Credit("Marram Studio", "CC BY 4.0"), Credit("Sandlark", "")))
LABEL = Label(
    "Shift of the navel since setup",
    "Four swings from March to June.",
    heading="Plate II · Shift of the navel since setup",
)


@pytest.fixture(scope="module")
def svg() -> str:
    return as_svg.chart(ChartAlone(WITH_CREDIT, LABEL, "in", words)).decode()


@pytest.fixture(scope="module")
def png() -> bytes:
    return as_png.chart(ChartAlone(WITH_CREDIT, LABEL, "in", words))


def test_title_and_description_come_first_and_give_every_number(svg: str) -> None:
    """As SVG 1.1, 5.4 has it; the table that holds the numbers on a page does not travel with the drawing."""
    first, second = list(parsed(svg))[:2]
    assert (first.tag, first.text) == (f"{SVG}title", "Shift of the navel since setup")
    assert second.tag == f"{SVG}desc" and second.text is not None
    lines = second.text.splitlines()
    assert lines[0] == "Four swings from March to June."
    assert lines[1] == "1 Mar, Dune: 4.1 in ± 0.6 toward the target"
    assert lines[-1] == "9 Jun, Dune: 0.8 in ± 0.9 away from the target"
    assert len(lines) == 5


def test_heading_and_credits_are_lettered_once_each(svg: str) -> None:
    said = [element.text for element in of_class(parsed(svg), "foot")[0]]
    assert said == ["Plate II · Shift of the navel since setup", "Marram Studio, CC BY 4.0; Sandlark"]


def test_nothing_is_fetched(svg: str) -> None:
    """The face is inside the file."""
    references = re.findall(r"url\(([^)]{1,12})", svg) + re.findall(r'href="([^"]{1,12})', svg)
    assert references and all(one.startswith("data:") for one in references)


def test_its_numbers_can_be_read_on_white() -> None:
    """WCAG 2.2, 1.4.3: text has a contrast of 4.5 to 1 at least."""
    assert contrast(STAMP, "#FFFFFF") >= 4.5


def test_the_png_is_the_drawing_with_its_facts_inside(png: bytes, svg: str) -> None:
    """Decoded by Pillow: twice the size of the SVG, keywords after the PNG specification."""
    picture = Image.open(io.BytesIO(png))
    root = parsed(svg)
    assert picture.size == (2 * int(root.attrib["width"]), 2 * round(float(root.attrib["height"])))
    assert picture.info["Title"] == "Shift of the navel since setup"
    assert "4.1 in ± 0.6 toward the target" in picture.info["Description"]
    assert picture.info["Copyright"] == "Marram Studio, CC BY 4.0; Sandlark"


def test_dots_are_painted_at_their_places(png: bytes, svg: str) -> None:
    """Each number's dot is of the stamp's colour where the SVG puts it, and the ground is white."""
    shown = pixels(png)
    stamp = near(shown, STAMP, 8)
    for dot in of_class(parsed(svg), "dot"):
        x, y = 2 * float(dot.attrib["cx"]), 2 * float(dot.attrib["cy"])
        assert stamp[round(y) - 2 : round(y) + 3, round(x) - 2 : round(x) + 3].all()
    assert (shown[2, 2] >= 254).all()


def test_a_browser_paints_the_svg_as_the_png(svg: str, page: Page) -> None:
    """Chromium's picture of the SVG and the PNG differ by less than 1 % on average (both are references)."""
    page.set_viewport_size({"width": 640, "height": 360})
    page.set_content(f'<body style="margin:0">{svg.partition("?>")[2]}</body>')
    page.evaluate("document.fonts.ready")
    seen = pixels(page.locator("svg").first.screenshot())
    made = pixels(as_png.chart(ChartAlone(WITH_CREDIT, LABEL, "in", words), 640))
    rows = min(len(seen), len(made))
    assert abs(len(seen) - len(made)) <= 1
    assert np.abs(seen[:rows] - made[:rows]).mean() < 0.01 * 255
    assert near(seen, STAMP, 8).sum() == pytest.approx(near(made, STAMP, 8).sum(), rel=0.1)


def test_days_need_not_differ() -> None:
    """Swings of one day make a drawing as well."""
    alike = replace(CHART, points=tuple(replace(p, on=date(2026, 3, 1)) for p in CHART.points[:2]))
    assert as_svg.chart(ChartAlone(alike, LABEL, "in", words)).startswith(b"<?xml")
