"""Casing, edge and core of strokes, and arcs, read back from pixels."""

from __future__ import annotations

import math

import numpy as np
import pytest

from lessonpress.drawing.palette import COLOURS, INK, PAPER
from lessonpress.drawing.strokes.strokes import DASHES, arc, arc_data, stroke
from lessonpress.overlays.shapes import Arc, Pen
from tests.drawing.reading import near, rendered

ZOOM = 10


def column(pen: Pen) -> dict[str, float]:
    """CSS px of casing (both sides), edge and core down a column through a level stroke."""
    d = "M5 30H95"
    drawn = "".join(element.tostring() for element in stroke(d, pen))
    line = rendered(drawn, 100, 60, ZOOM)[:, 55 * ZOOM]
    grey = near(line, "#808080", 6)
    paper = near(line, PAPER, 16)
    return {
        "whole": float((~grey).sum()) / ZOOM,
        "casing": float(paper.sum()) / ZOOM,
        "core": float(near(line, COLOURS[pen.colour]).sum()) / ZOOM,
        "edge": float(near(line, INK).sum()) / ZOOM,
    }


@pytest.mark.parametrize(
    ("pen", "casing", "edge", "core"),
    [
        (Pen("blue", 2.8), 1.7, 0.0, 2.8),
        (Pen("vermilion", 3.0), 1.7, 0.65, 3.0),
        (Pen("orange", 2.0), 1.7, 1.0, 2.0),
        (Pen("yellow", 3.0), 1.7, 1.0, 3.0),
    ],
)
def test_a_stroke_lies_on_its_casing(pen: Pen, casing: float, edge: float, core: float) -> None:
    """Casing, edge of ink and core have the widths of the table of looks, on each side."""
    seen = column(pen)
    assert seen["core"] == pytest.approx(core, abs=0.25)
    assert seen["casing"] == pytest.approx(2 * casing, abs=0.25)
    assert seen["edge"] == pytest.approx(2 * edge, abs=0.25)
    assert seen["whole"] == pytest.approx(core + 2 * (edge + casing), abs=0.25)


def test_the_casing_is_whole_under_a_dash() -> None:
    """Along a standing line paper shows in every gap, seven on and five off."""
    drawn = "".join(e.tostring() for e in stroke("M10 20H94", Pen("black", 1.8, "standing")))
    row = rendered(drawn, 104, 40, ZOOM)[20 * ZOOM, 11 * ZOOM : 93 * ZOOM]
    dark, paper = near(row, "#000000"), near(row, PAPER, 16)
    assert (dark | paper).mean() > 0.97
    assert dark.mean() == pytest.approx(7 / 12, abs=0.04)


def test_every_dash_but_solid_is_its_own() -> None:
    """Form distinguishes strokes without colour: dashes that may share a colour differ."""
    told = {dash: pattern for dash, pattern in DASHES.items() if dash not in ("plumb", "arc")}
    assert len(set(told.values())) == len(told)


@pytest.mark.parametrize(("start", "end"), [(-90.0, 0.0), (0.0, -90.0), (10.0, 250.0), (-30.0, -300.0)])
def test_an_arc_runs_from_start_to_end(start: float, end: float) -> None:
    """Pixels of the core lie at the arc's radius, between its two angles, and all the way along."""
    drawn = "".join(e.tostring() for e in arc(Arc((60.0, 60.0), 40.0, start, end, Pen("blue", 2))))
    ys, xs = np.nonzero(near(rendered(drawn, 120, 120, 4), COLOURS["blue"], 4))
    x, y = xs / 4 - 60 + 0.125, ys / 4 - 60 + 0.125
    assert np.hypot(x, y) == pytest.approx(np.full(len(x), 40.0), abs=1.3)
    turned = (np.degrees(np.arctan2(y, x)) - start) * math.copysign(1, end - start) % 360
    turned = np.where(turned > 358, 0.0, turned)
    assert turned.max() == pytest.approx(abs(end - start), abs=2.0)
    assert len(np.unique(turned.astype(int))) >= abs(end - start) - 3


def test_a_whole_circle_closes() -> None:
    """From 0 to 360 degrees is a circle and not nothing."""
    assert arc_data((50.0, 50.0), 20.0, 0.0, 360.0).endswith("Z")


def test_a_double_arc_has_two_strokes() -> None:
    """The second lies 4.5 CSS px inside the first."""
    drawn = "".join(
        e.tostring() for e in arc(Arc((60.0, 60.0), 40.0, -60, 60, Pen("green", 1.5), double=True))
    )
    row = near(rendered(drawn, 120, 120, ZOOM)[60 * ZOOM], COLOURS["green"])
    middles = np.nonzero(row)[0].reshape(2, -1).mean(axis=1) / ZOOM
    assert middles[1] - middles[0] == pytest.approx(4.5, abs=0.2)
