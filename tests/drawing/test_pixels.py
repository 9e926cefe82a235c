"""A drawing's ink by itself is the whole drawing's."""

from __future__ import annotations

import io

import numpy as np
import pytest
from PIL import Image

from lessonpress.drawing.layout import Layout
from lessonpress.drawing.paper import Element, circle, document, path, sheet
from lessonpress.drawing.pixels import ink, px_across
from lessonpress.drawing.plate import overlays
from lessonpress.drawing.rendering import render_png
from tests.drawing import sample

SIZE = (402, 502)  # CSS px; no multiple of what a glance makes one px of
AT_AN_EDGE = (
    64  # of 255: the renderer rounds a stroke's edge another way where it cuts the stroke off (tried)
)
PANEL = sample.other_kinds()
DRAWINGS = {
    "overlays of a plate": overlays(PANEL, Layout(PANEL.crop, 400.0), "t"),
    "a hairline": [path("M120 30L121 470", stroke="#000", stroke_width=0.3, stroke_opacity=0.3)],
    "a speck": [circle(0.4, (233.3, 71.7), fill="#000")],
    "two specks far apart": [circle(0.4, place, fill="#000") for place in ((21.3, 31.7), (386.3, 477.7))],
    "a line across": [path("M0 0L402 502", stroke="#000", stroke_width=4, stroke_opacity=0.5)],
    "a hairline at the edge": [path("M401.7 30V470", stroke="#000", stroke_width=0.6)],
    "what runs over every edge": [path("M-50 -50L450 550M450 -50L-50 550", stroke="#000", stroke_width=9)],
}


@pytest.mark.parametrize("name", DRAWINGS)
@pytest.mark.parametrize("zoom", [1, 1.5, 2, 3])
def test_ink_by_itself_is_that_of_the_whole_drawing(name: str, zoom: float) -> None:
    made = Image.new("RGB", (round(SIZE[0] * zoom), round(SIZE[1] * zoom)), "#808080")
    ink(DRAWINGS[name], *SIZE, zoom).laid_on(made)
    known = Image.new("RGB", made.size, "#808080")
    whole = whole_of(DRAWINGS[name], zoom)
    known.paste(whole, mask=whole)
    assert np.asarray(known).std() > 0
    off = np.abs(np.asarray(made, dtype=int) - np.asarray(known, dtype=int)).max(axis=2)
    assert off.max() <= AT_AN_EDGE and (off > 4).mean() < 1e-4


def test_no_more_is_drawn_than_has_ink() -> None:
    whole = 4 * SIZE[0] * SIZE[1]
    assert 0 < drawn_px("a speck") < 0.01 * whole
    assert drawn_px("two specks far apart") < 0.02 * whole
    assert drawn_px("a line across") < 0.6 * whole
    assert ink([], *SIZE, 2).parts == ()


def drawn_px(name: str) -> int:
    return sum(picture.width * picture.height for picture, _ in ink(DRAWINGS[name], *SIZE, 2).parts)


@pytest.mark.parametrize(
    ("filmed", "across"), [(300, 960), (960, 960), (1100, 1100), (1280, 1280), (2160, 1280)]
)
def test_a_picture_is_drawn_with_the_px_that_it_was_filmed_with(filmed: int, across: int) -> None:
    """Of a picture shown 640 CSS px wide: from one and a half px to each, for the letters, up to two."""
    assert px_across((10.0, 20.0, 10.0 + filmed, 900.0), 640) == across


def whole_of(elements: list[Element], zoom: float) -> Image.Image:
    drawing = sheet(*SIZE, sized=True)
    for element in elements:
        drawing.add(element)
    return Image.open(io.BytesIO(render_png(document(drawing), zoom))).convert("RGBA")
