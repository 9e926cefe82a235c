"""The colours of overlays against their published set, WCAG 2.2 and CIE lightness."""

from __future__ import annotations

import numpy as np
import pytest
from skimage.color import rgb2lab

from lessonpress.drawing.palette import COLOURS, EDGE, INK, PAPER, inlaid, letter_colour
from tests.drawing.reading import contrast, rgb

# Okabe and Ito, Color Universal Design (2008); from memory
PUBLISHED = {"#000000", "#E69F00", "#56B4E9", "#009E73", "#F0E442", "#0072B2", "#D55E00", "#CC79A7"}


@pytest.mark.parametrize(
    ("one", "other", "ratio"),
    [("#000000", "#FFFFFF", 21.0), ("#767676", "#FFFFFF", 4.54), ("#777777", "#FFFFFF", 4.48)],
)
def test_the_contrast_used_here_is_that_of_wcag(one: str, other: str, ratio: float) -> None:
    """Black, #767676 and #777777 on white have their well-known ratios (WCAG 2.2)."""
    assert contrast(one, other) == pytest.approx(ratio, abs=0.005)


def test_the_colours_are_okabe_and_itos() -> None:
    """The eight colours are the published eight."""
    assert set(COLOURS.values()) == PUBLISHED


@pytest.mark.parametrize("colour", COLOURS)
def test_a_letter_on_its_cell_passes_aa_for_text(colour: str) -> None:
    """Every letter has 4.5 : 1 on its cell (WCAG 2.2, 1.4.3)."""
    assert contrast(letter_colour(colour), COLOURS[colour]) >= 4.5


def test_tag_text_passes_aaa() -> None:
    """Ink on a tag's paper has over 7 : 1 (WCAG 2.2, 1.4.6)."""
    assert contrast(INK, PAPER) == pytest.approx(18.4, abs=0.05)


@pytest.mark.parametrize("colour", COLOURS)
def test_a_stroke_has_an_edge_of_three_to_one(colour: str) -> None:
    """Core or edge of ink has 3 : 1 against the casing (WCAG 2.2, 1.4.11), whatever the picture is."""
    edge = INK if EDGE[colour] else COLOURS[colour]
    assert contrast(edge, PAPER) >= 3.0


def test_the_light_colours_are_inlaid() -> None:
    """Every colour under 3 : 1 on the casing carries a full edge of ink, and so does purple, near it."""
    faint = {colour for colour in COLOURS if contrast(COLOURS[colour], PAPER) < 3.0}
    assert faint | {"purple"} == {colour for colour in COLOURS if inlaid(colour)}
    assert contrast(COLOURS["purple"], PAPER) < 3.1


@pytest.mark.parametrize(
    ("colour", "lightness"),
    [
        ("black", 0),
        ("blue", 46),
        ("vermilion", 54),
        ("green", 58),
        ("purple", 61),
        ("sky", 70),
        ("orange", 71),
        ("yellow", 89),
    ],
)
def test_the_colours_differ_in_lightness(colour: str, lightness: int) -> None:
    """CIE L* of each colour by scikit-image is the one the table of looks gives."""
    lab = rgb2lab(np.array(rgb(COLOURS[colour]), dtype=float).reshape(1, 1, 3) / 255)
    assert lab[0, 0, 0] == pytest.approx(lightness, abs=1.0)
