"""A drawing that travels alone: SVG with everything in it, and the PNG of it."""

from __future__ import annotations

import io
import re
from dataclasses import replace
from itertools import pairwise

import numpy as np
import pytest
from PIL import Image
from playwright.sync_api import Page

from lessonpress.drawing import Label
from lessonpress.drawing.formats import png as as_png
from lessonpress.drawing.formats import svg as as_svg
from lessonpress.drawing.palette import COLOURS
from lessonpress.drawing.standalone import PanelAlone, picture_type
from lessonpress.figures import Panel
from tests.drawing import sample
from tests.drawing.reading import SVG, near, parsed, pixels

PANEL = sample.other_kinds()
GREY = (118, 124, 128)


def picture(kind: str = "JPEG") -> bytes:
    """A grey picture with a green left half, so that its two sides differ."""
    image = Image.new("RGB", (160, 200), GREY)
    image.paste((40, 120, 60), (0, 0, 20, 200))
    file = io.BytesIO()
    image.save(file, kind)
    return file.getvalue()


IMPACT = Label("Impact", "At impact.")


def alone(heading: str = "Plate II", width: int = 640) -> str:
    label = Label("Impact", "A drawn golfer.", heading)
    return as_svg.panel(PanelAlone(PANEL, label, "in", width), picture()).decode()


def in_pixels(label: Label = IMPACT, panel: Panel = PANEL, across: int = 400) -> np.ndarray:
    """Laid out for 400 CSS px."""
    return pixels(as_png.panel(PanelAlone(panel, label, "in", 400), picture(), across))


def test_title_and_description_come_first() -> None:
    """A screen reader finds both as the first children of the root (SVG 1.1, 5.4)."""
    first, second = list(parsed(alone()))[:2]
    assert (first.tag, first.text) == (f"{SVG}title", "Impact")
    assert (second.tag, second.text) == (f"{SVG}desc", "A drawn golfer.")


def test_the_credit_is_lettered_with_its_licence() -> None:
    """A reader who passes the drawing on passes on whose it is."""
    said = " ".join(parsed(alone()).itertext())
    assert "Drawn figure, Marram Studio, CC BY 4.0" in said
    assert "Plate II" in said


def test_nothing_is_fetched() -> None:
    """Picture and face are inside the file: every reference is data or its own id."""
    svg = alone()
    references = re.findall(r'href="([^"]{1,12})', svg) + re.findall(r"url\(([^)]{1,12})", svg)
    assert len(references) >= 2
    assert all(reference.startswith(("data:", "#")) for reference in references)


@pytest.mark.parametrize(
    ("kind", "told"), [("JPEG", "image/jpeg"), ("PNG", "image/png"), ("WEBP", "image/webp")]
)
def test_a_picture_is_known_by_its_first_bytes(kind: str, told: str) -> None:
    """Pillow's JPEG, PNG and WebP are distinguished; anything else is refused."""
    assert picture_type(picture(kind)) == told
    with pytest.raises(ValueError, match="JPEG, PNG or WebP"):
        picture_type(b"<svg/>")


@pytest.fixture(scope="module")
def png() -> np.ndarray:
    return in_pixels()


def test_the_png_has_the_drawings_size(png: np.ndarray) -> None:
    """Width as asked, height of picture, bar and foot; twice of both at twice the px."""
    assert png.shape[1] == 400
    assert png.shape[0] > 500 + 30
    double = in_pixels(across=800)
    assert double.shape == (2 * png.shape[0], 2 * png.shape[1], 3)


def test_the_shift_is_painted_where_it_is(png: np.ndarray) -> None:
    """Vermilion lies along the shift's direction, from its start to its head, and not above or below it."""
    red = near(png, COLOURS["vermilion"], 4)
    ys, xs = np.nonzero(red[:500])
    y, start, tip = 620 * 0.5, (398 - 80) * 0.5, 418 * 0.5
    before_its_tag = xs < tip + 5
    assert before_its_tag.sum() > 80
    assert np.abs(ys - y)[before_its_tag].max() <= 7
    assert xs.min() > start - 5
    assert red[int(y), int(start + 12) : int(tip - 16)].mean() > 0.9


def test_the_letters_are_painted(png: np.ndarray) -> None:
    """Tags have white or black letters: with the face missing a tag's cell would be one flat colour."""
    ys, xs = np.nonzero(near(png, COLOURS["orange"], 4))
    cell = png[ys.min() : ys.max() + 1, xs.min() : xs.max() + 1]
    assert near(cell, "#000000", 60).sum() > 20


def test_the_picture_lies_under_its_overlays(png: np.ndarray) -> None:
    """The embedded picture shows, green on its left."""
    assert np.abs(png[250, 10] - np.array((40, 120, 60))).max() < 12
    assert np.abs(png[250, 390] - np.array(GREY)).max() < 12


def test_mirrored_the_picture_turns_with_the_drawing() -> None:
    """Green is on the right, and the shift's tip on the other side of its start."""
    turned = in_pixels(panel=replace(PANEL, mirrored=True))
    assert np.abs(turned[250, 390] - np.array((40, 120, 60))).max() < 12
    start, tip = 400 - (398 - 80) * 0.5, 400 - 418 * 0.5
    assert near(turned, COLOURS["vermilion"], 4)[310, int(tip + 16) : int(start - 12)].mean() > 0.9


def test_drawing_twice_gives_the_same_bytes() -> None:
    """SVG and PNG are functions of the panel and the picture."""
    assert alone() == alone()
    first, second = (as_png.panel(PanelAlone(PANEL, Label("t", "d"), "cm", 260), picture()) for _ in range(2))
    assert first == second


def test_a_long_credit_is_wrapped_below_the_bar() -> None:
    """The foot grows by a line at a time, and no line is lost."""
    heights = [
        float(parsed(alone(heading="word " * count, width=260)).attrib["height"]) for count in (1, 20, 40)
    ]
    assert all(a < b for a, b in pairwise(heights))


def test_a_browser_draws_what_the_renderer_draws(page: Page) -> None:
    """Chromium's picture of the SVG and the PNG differ by less than 3 % on average (both are references)."""
    svg = alone(width=400)
    page.set_viewport_size({"width": 400, "height": 700})
    page.set_content(f'<body style="margin:0">{svg.partition("?>")[2]}</body>')
    page.evaluate("document.fonts.ready")
    seen = pixels(page.locator("svg").first.screenshot())
    made = in_pixels(Label("Impact", "At impact.", heading="Plate II"))
    rows = min(len(seen), len(made))
    assert abs(len(seen) - len(made)) <= 1
    assert np.abs(seen[:rows] - made[:rows]).mean() < 0.03 * 255


def test_a_png_carries_title_description_and_credit_for_one_who_finds_the_file_alone():
    # keywords: W3C, Portable Network Graphics (third edition), 11.3.3.1, from memory
    made = as_png.panel(PanelAlone(PANEL, IMPACT, "in", 400), picture())
    told = Image.open(io.BytesIO(made)).text  # type: ignore[attr-defined]
    assert (told["Title"], told["Description"]) == ("Impact", "At impact.")
    assert PANEL.credit.text in told["Copyright"]
