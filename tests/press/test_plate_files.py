"""A plate drawn once more has the width asked for, all its pictures, and its facts inside it."""

from __future__ import annotations

import io
from pathlib import Path

import pytest
from PIL import Image
from PIL.PngImagePlugin import PngImageFile

from lessonpress.press.plate_files import PlateOptions, draw_plate
from lessonpress.press.progress import Silent
from lessonpress.records import UsageError


def drawn(site: Path, plate: str, options: PlateOptions) -> bytes:
    done = draw_plate(site, "pelvis", plate, options, Silent())
    assert done.path is not None, done.problems.errors
    return done.path.read_bytes()


def opened(content: bytes) -> PngImageFile:
    picture = Image.open(io.BytesIO(content))
    assert isinstance(picture, PngImageFile)
    return picture


def test_a_strip_comes_as_one_sheet_with_its_facts_inside(own_site: Path) -> None:
    sheet = opened(drawn(own_site, "sequence", PlateOptions(width=600)))
    assert sheet.width == 600
    assert sheet.text["Copyright"].count("Drawn") == 1
    assert len(sheet.text["Title"].splitlines()) == 3
    alone = opened(drawn(own_site, "sequence", PlateOptions(width=600, picture=2)))
    assert alone.width == 600 and alone.height > sheet.height
    assert alone.text["Title"] == sheet.text["Title"].splitlines()[1]


def test_a_square_is_square_and_a_bare_plate_has_no_numbers(own_site: Path) -> None:
    square = opened(drawn(own_site, "top", PlateOptions(width=320, square=True)))
    assert square.width == square.height > 320
    plain = drawn(own_site, "top", PlateOptions(suffix="svg"))
    bare = drawn(own_site, "top", PlateOptions(suffix="svg", letters=False))
    assert b'class="tags"' in plain and b'class="tags"' not in bare
    assert b'class="core"' in bare or b"<path" in bare


def test_what_is_not_there_is_answered_with_what_is(own_site: Path) -> None:
    for plate, options, wanted in (
        ("topp", PlateOptions(), "there are: top"),
        ("sequence", PlateOptions(picture=4), "1 to 3"),
        ("sequence", PlateOptions(suffix="svg"), "--picture"),
    ):
        with pytest.raises(UsageError, match=wanted):
            drawn(own_site, plate, options)
