"""The survey bar is to scale, and says which way is which."""

from __future__ import annotations

import re
from dataclasses import replace
from itertools import pairwise

import pytest

from lessonpress.drawing import scale_bar_svg
from lessonpress.drawing.scalebar import SIZE
from lessonpress.drawing.tags.faces import text_width
from tests.drawing import sample
from tests.drawing.reading import parsed

PANEL = sample.other_kinds()
assert PANEL.bar is not None
ZERO = PANEL.bar.zero * 360 / 800


def blocks(svg: str) -> list[tuple[float, float]]:
    """Left and right of each dark block."""
    return [(float(a), float(b)) for a, b in re.findall(r"M(-?[\d.]+) 0H(-?[\d.]+)V7", svg)]


def lettering(svg: str) -> dict[str, float]:
    return {text.text or "": float(text.attrib["x"]) for text in parsed(svg).iter("text")}


@pytest.mark.parametrize(("units", "metres"), [("in", 6 * 0.0254), ("cm", 0.15)])
def test_a_block_is_six_inches_or_fifteen_centimetres(units: str, metres: float) -> None:
    """The block that begins at zero is as long as the panel's scale makes it (1 in = 25.4 mm, 1959)."""
    svg = scale_bar_svg(PANEL, 360, units)
    first = min(blocks(svg), key=lambda block: abs(block[0] - ZERO))
    assert first[0] == pytest.approx(ZERO, abs=0.06)
    assert first[1] - first[0] == pytest.approx(metres * 413.0 * 360 / 800, abs=0.11)


@pytest.mark.parametrize("units", ["in", "cm"])
def test_numbers_are_at_their_distance(units: str) -> None:
    """Each number lies as far from zero as it says."""
    per = {"in": 0.0254, "cm": 0.01}[units] * 413.0 * 640 / 800
    told = lettering(scale_bar_svg(PANEL, 640, units))
    zero = told["0"]
    numbers = {words: x for words, x in told.items() if words[0].isdigit()}
    assert len(numbers) >= 4
    for words, x in numbers.items():
        assert abs(x - zero) == pytest.approx(float(words.split()[0]) * per, abs=0.11)


@pytest.mark.parametrize("mirrored", [False, True])
@pytest.mark.parametrize("positive_right", [1, -1])
def test_toward_lies_where_the_axis_runs(positive_right: int, mirrored: bool) -> None:
    """Mirroring and the camera's side each turn the words about, and zero with them."""
    bar = replace(PANEL.bar, positive_right=positive_right)
    told = lettering(scale_bar_svg(replace(PANEL, bar=bar), 360, "in", mirrored=mirrored))
    assert (told["toward"] > told["away"]) == ((positive_right > 0) != mirrored)
    assert told["0"] == pytest.approx(360 - ZERO if mirrored else ZERO, abs=0.06)


def test_down_the_line_the_bar_names_the_ball() -> None:
    """Where the level axis runs to the ball the bar says so."""
    panel = replace(PANEL, bar=replace(PANEL.bar, goal="ball"))
    assert "toward ball" in lettering(scale_bar_svg(panel, 360, "in"))


def test_without_a_scale_there_is_no_bar() -> None:
    """No plate pretends to a scale that it has not."""
    assert scale_bar_svg(replace(PANEL, bar=None), 360, "in") is None


@pytest.mark.parametrize("width", [190.0, 259.0, 360.0, 640.0])
@pytest.mark.parametrize("scale", [60.0, 413.0, 1500.0])
def test_lettering_never_runs_together(width: float, scale: float) -> None:
    """At any width and scale the pieces of lettering are apart."""
    svg = scale_bar_svg(replace(PANEL, bar=replace(PANEL.bar, px_per_metre=scale)), width, "in")
    spans = []
    for text in parsed(svg).iter("text"):
        wide, x = text_width(text.text or "", SIZE, 500), float(text.attrib["x"])
        left = {"middle": x - wide / 2, "end": x - wide}.get(text.attrib.get("text-anchor", ""), x)
        spans.append((left, left + wide))
    spans.sort()
    assert all(a[1] < b[0] for a, b in pairwise(spans))


def test_the_bar_takes_the_colour_of_its_page() -> None:
    """It is drawn in currentColor, so day and night need one drawing."""
    svg = scale_bar_svg(PANEL, 360, "in")
    assert "currentColor" in svg
    assert 'class="ground"' in svg
