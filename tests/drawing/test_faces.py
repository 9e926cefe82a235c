"""The packaged faces: their licences, weights and widths."""

from __future__ import annotations

import numpy as np
import pytest
from PIL import ImageFont

from lessonpress.drawing.tags.faces import WEIGHTS, face_file, text_width, woff2_file, wrapped
from lessonpress.records.theme import theme_folder
from tests.drawing.reading import near, rendered


@pytest.mark.parametrize("weight", WEIGHTS)
def test_the_faces_are_those_their_licences_name(weight: int) -> None:
    """Each static face says that it is National Park, and its open licence lies beside it."""
    assert ImageFont.truetype(str(face_file(weight)), 20).getname()[0] == "National Park"
    licence = (face_file(weight).parent / "OFL-national-park.txt").read_text(encoding="utf-8")
    assert "SIL OPEN FONT LICENSE Version 1.1" in licence


def test_the_web_faces_fit_their_budget() -> None:
    """Both faces of an English page together stay under 45,000 bytes, each with its licence."""
    fonts = theme_folder() / "fonts"
    files = [fonts / "national-park-plain.woff2", fonts / "vollkorn-plain.woff2"]
    assert all(path.read_bytes()[:4] == b"wOF2" for path in (*files, woff2_file()))
    assert sum(path.stat().st_size for path in files) < 45_000
    assert (fonts / "OFL-vollkorn.txt").is_file()


@pytest.mark.parametrize("words", ["head stays inside", "±0.6", "−12.5 in", "29.2°", "1:30", "48 × ½ é ß"])
def test_text_is_as_wide_as_it_is_rendered(words: str) -> None:
    """Measured width agrees with the pixels of the renderer to 4 %, which kerning and bearings take."""
    size, zoom = 40, 4
    face = f'font-family="National Park" font-size="{size}" font-weight="500" fill="#000000"'
    picture = rendered(f'<text x="20" y="60" {face}>{words}</text>', 500, 100, zoom)
    xs = np.nonzero(near(picture, "#000000", 40))[1]
    seen = (xs.max() + 1 - xs.min()) / zoom
    assert seen <= text_width(words, size, 500) + 1
    assert seen == pytest.approx(text_width(words, size, 500), rel=0.04, abs=6)


def test_heavier_is_wider() -> None:
    """The three weights differ, so none is used for another."""
    widths = [text_width("4.0 in", 13.5, weight) for weight in WEIGHTS]
    assert widths == sorted(set(widths))


def test_long_words_are_wrapped_into_the_room_there_is() -> None:
    """No line is wider than its room, no word is lost or split."""
    words = "Drawn figure of the Marram Studio, lent for this lesson and for its print card"
    lines = wrapped(words, 13, 500, 150)
    assert " ".join(lines) == words
    assert all(text_width(line, 13, 500) <= 150 for line in lines)
    assert wrapped("", 13, 500, 150) == ()


def test_an_address_is_broken_after_its_slashes() -> None:
    address = "https://notebook.saltmarsh.example/lessons/two-swings-one-ball/"
    lines = wrapped(address, 13, 500, 250, "/")
    assert "".join(lines) == address and len(lines) == 2
    assert all(line.endswith("/") and text_width(line, 13, 500) <= 250 for line in lines)
    assert wrapped(address, 13, 500, 500, "/") == (address,)


def test_an_unknown_theme_is_reported_with_those_there_are() -> None:
    """Asking for a theme that is not there names the ones that are."""
    with pytest.raises(FileNotFoundError, match="plate-book"):
        theme_folder("vellum")
