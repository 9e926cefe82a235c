"""Every panel and every chart leaves the site as SVG and PNG, under the names that the pages link."""

from __future__ import annotations

import io
import pickle
import re
from dataclasses import replace
from pathlib import Path
from xml.etree import ElementTree

import pytest
from PIL import Image

from lessonpress.drawing import SHEET, SQUARE
from lessonpress.figures.plates import Chart, Credit
from lessonpress.outlets.diagrams import ChartDiagram, Diagram, PanelDiagram, diagrams_of, for_letter
from lessonpress.outlets.sheets import Sheet, sheets_of
from tests.pages import factory
from tests.pages.sites import chart_lesson

SHOWN = 480  # CSS px of a plate in a letter of 600, within its margins
SITE = factory.bound(url="https://notes.example/swing").site


def drawn() -> ChartDiagram:
    lesson = chart_lesson()
    (plate,) = lesson.plates
    assert isinstance(plate.chart, Chart)
    credited = replace(plate, chart=replace(plate.chart, credits=(Credit("Drawn studio", "CC BY 4.0"),)))
    lesson = replace(lesson, plates=(credited,))
    (one,) = diagrams_of(lesson, SITE, "Plate", lambda panel: Path(), lambda day: f"{day:%d.%m.%Y}")
    assert isinstance(one, ChartDiagram)
    return one


def test_a_chart_is_a_diagram_under_its_plate_s_name() -> None:
    one = drawn()
    assert one.beside.path("svg") == "lessons/autumn/over-time.svg"
    assert one.beside.path("png") == "lessons/autumn/over-time.png"


def test_it_gives_title_numbers_and_credit() -> None:
    root = ElementTree.fromstring(drawn().drawn("svg"))
    said = "\n".join(root.itertext())
    assert root[0].text == "Tilt of the line from navel to C7"
    assert "01.11.2026, Shingle, outdoors: 29.2°" in said
    assert "Plate I · Tilt of the line from navel to C7" in said
    assert "Drawn studio, CC BY 4.0" in said


def test_it_can_be_drawn_in_another_process() -> None:
    """Workers get it pickled; what they draw is the same picture."""
    again = pickle.loads(pickle.dumps(drawn()))
    assert Image.open(io.BytesIO(again.drawn("png"))).size[0] == 1280
    assert again.drawn("png") == drawn().drawn("png")


def _panel_diagrams(url: str | None) -> list[PanelDiagram]:
    site = factory.bound(url=url).site
    lesson = factory.whole_lesson()
    made = diagrams_of(lesson, site, "Plate", lambda panel: _grey, lambda day: str(day))
    return [one for one in made if isinstance(one, PanelDiagram)]


def test_the_panels_of_a_plate_are_numbered_and_one_alone_is_not() -> None:
    """Its SVG and its PNG are called alike."""
    named = [one.beside.path("svg") for one in _panel_diagrams(None)]
    wanted = [
        f"lessons/pelvis/{plate.id}{f'-{number}' if len(plate.panels) > 1 else ''}.svg"
        for plate in factory.whole_lesson().plates
        for number in range(1, len(plate.panels) + 1)
    ]
    assert named == wanted and len(wanted) > len(factory.whole_lesson().plates)
    assert [one.beside.path("png") for one in _panel_diagrams(None)] == [
        path.replace(".svg", ".png") for path in wanted
    ]


@pytest.fixture(scope="module")
def sheets() -> dict[str, Sheet]:
    made = sheets_of(_panel_diagrams("https://notes.example/swing"))
    return {one.beside.path("png").rpartition("/")[2]: one for one in made}


def test_each_plate_has_a_square_and_one_of_several_pictures_a_sheet(sheets: dict[str, Sheet]) -> None:
    plates = factory.whole_lesson().plates
    several = [plate.id for plate in plates if len(plate.panels) > 1]
    assert several
    assert set(sheets) == {
        *(f"{plate.id}.square.png" for plate in plates if plate.panels),
        *(f"{name}.sheet.png" for name in several),
    }


def test_words_are_as_large_as_the_place_that_shows_them_asks_for(sheets: dict[str, Sheet]) -> None:
    """11 px of the smallest words where a letter or a square is 600 px wide: common practice."""
    for name, one in sheets.items():
        picture = Image.open(io.BytesIO(one.drawn("png")))
        assert set(picture.text) >= {"Title", "Copyright"}  # type: ignore[attr-defined]
        if name.endswith(".sheet.png"):
            assert picture.width == SHEET.across
            continue
        assert picture.width == picture.height >= (SQUARE.across or 0)
        assert _smallest_words(one) * (SQUARE.across or 0) / SQUARE.width * 600 / picture.width >= 11
    letter = for_letter(_panel_diagrams(None)[0])
    assert _smallest_words(letter) * SHOWN / letter.beside.size.width >= 11
    assert _smallest_words(letter) * 300 / letter.beside.size.width >= 10  # on a phone of 320 px
    assert letter.beside.size.across == 1200


def _smallest_words(diagram: Diagram) -> float:
    """CSS px, of all sizes that the drawing names."""
    sizes = re.findall(r"font-size[=:][\"\s]*([0-9.]+)", diagram.shown)
    return min(map(float, sizes))


def _grey() -> bytes:
    file = io.BytesIO()
    Image.new("RGB", (160, 200), (118, 124, 128)).save(file, "JPEG")
    return file.getvalue()


def test_a_diagram_says_what_its_letters_mean_whose_lesson_it_is_of_and_where_that_is() -> None:
    """As lettering in the drawing, which its PNG shows as well."""
    lesson = factory.whole_lesson().lesson
    for one in _panel_diagrams("https://notes.example/swing"):
        root = ElementTree.fromstring(one.drawn("svg"))
        [foot] = [group for group in root.iter() if group.get("class") == "foot"]
        said = " ".join(" ".join(foot.itertext()).split())
        assert lesson.title in said
        assert "https://notes.example/swing/lessons/pelvis/" in said
        tagged = {letter for tag in foot.iter() if (letter := tag.get("data-letter"))}
        assert tagged == {drawn.letter for drawn in one.panel.drawn if drawn.letter}
        assert all(f"{drawn.letter} {drawn.name}" in said for drawn in one.panel.drawn)
    assert "± 0.6 toward the target" in said


def test_a_diagram_of_a_site_without_an_address_has_none() -> None:
    made = _panel_diagrams(None)
    assert made and all("https://notes.example" not in one.drawn("svg").decode() for one in made)


def test_a_png_is_as_tall_as_its_drawing() -> None:
    one = _panel_diagrams("https://notes.example/swing")[0]
    root = ElementTree.fromstring(one.drawn("svg"))
    width, height = (float(root.get(side) or 0) for side in ("width", "height"))
    across, down = Image.open(io.BytesIO(one.drawn("png"))).size
    assert down == pytest.approx(across * height / width, abs=1)
