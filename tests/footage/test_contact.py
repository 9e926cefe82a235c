"""A contact sheet shows the clip from its first picture to its last."""

from __future__ import annotations

from pathlib import Path

import cv2
import numpy as np

from lessonpress.footage.video.contact import CELL, GAP, contact_sheet, frames_around, frames_spaced
from lessonpress.footage.video.index import read_index
from tests.footage.conftest import numbered
from tests.studio import strip
from tests.studio.film import encode


def test_the_sheet_begins_with_the_first_picture(tmp_path: Path) -> None:
    path = encode(tmp_path / "clip.mp4", numbered(30))
    index = read_index(path)
    sheet = contact_sheet(path, index, frames_spaced(index.intact(), 6))
    first = sheet[GAP : GAP + round(182 * CELL / 322), GAP : GAP + CELL]
    assert strip.read(np.asarray(cv2.resize(first, (322, 182)), dtype=np.uint8)) == 0


def test_a_clip_shorter_than_the_sheet_is_shown_once(tmp_path: Path) -> None:
    path = encode(tmp_path / "clip.mp4", numbered(3))
    index = read_index(path)
    np.testing.assert_array_equal(
        contact_sheet(path, index, frames_spaced(index.intact(), 50)),
        contact_sheet(path, index, frames_spaced(index.intact(), 3)),
    )


def test_a_sheet_around_a_picture_has_every_picture_beside_it(tmp_path: Path) -> None:
    index = read_index(encode(tmp_path / "clip.mp4", numbered(30)))
    assert frames_around(index.intact(), 13, 5) == [11, 12, 13, 14, 15]
    assert frames_around(index.intact(), 0, 5) == [0, 1, 2, 3, 4]
    assert frames_around(index.intact(), 29, 5) == [25, 26, 27, 28, 29]
    assert frames_around(index.intact(), 13, 50) == list(range(30))
