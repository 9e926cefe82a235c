"""Every panel and every chart leaves the site as SVG and PNG, under the names that the pages link."""

from __future__ import annotations

import io
import pickle
from dataclasses import replace
from pathlib import Path
from xml.etree import ElementTree

from PIL import Image

from lessonpress.figures.plates import Chart, Credit
from lessonpress.outlets.diagrams import ChartDiagram, diagrams
from tests.pages.sites import chart_lesson


def drawn() -> ChartDiagram:
    lesson = chart_lesson()
    (plate,) = lesson.plates
    assert isinstance(plate.chart, Chart)
    credited = replace(plate, chart=replace(plate.chart, credits=(Credit("Drawn studio", "CC BY 4.0"),)))
    lesson = replace(lesson, plates=(credited,))
    (one,) = diagrams(lesson, "in", "Plate", lambda panel: Path(), lambda day: f"{day:%d.%m.%Y}")
    assert isinstance(one, ChartDiagram)
    return one


def test_a_chart_is_a_diagram_under_its_plate_s_name() -> None:
    one = drawn()
    assert one.svg_path == "lessons/autumn/over-time.svg"
    assert one.png_path == "lessons/autumn/over-time.png"


def test_it_tells_title_numbers_and_credit() -> None:
    root = ElementTree.fromstring(drawn().svg())
    said = "\n".join(root.itertext())
    assert root[0].text == "Tilt of the line from navel to C7"
    assert "01.11.2026, Shingle, outdoors: 29.2°" in said
    assert "Plate I · Tilt of the line from navel to C7" in said
    assert "Drawn studio, CC BY 4.0" in said


def test_it_can_be_drawn_in_another_process() -> None:
    """Workers get it pickled; what they draw is the same picture."""
    again = pickle.loads(pickle.dumps(drawn()))
    assert Image.open(io.BytesIO(again.png())).size[0] == 1280
    assert again.png() == drawn().png()
