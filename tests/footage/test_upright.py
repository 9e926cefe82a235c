"""Pictures come upright and with square pixels, for every way in which a telephone can be held."""

from __future__ import annotations

from fractions import Fraction
from pathlib import Path

import numpy as np
import pytest

from lessonpress.footage.video.failure import FootageError
from lessonpress.footage.video.index import read_index
from lessonpress.footage.video.pictures import take_pictures
from lessonpress.footage.video.upright import Upright, from_display_matrix
from tests.footage.conftest import Picture
from tests.studio.film import encode

ONE = 1 << 16


def quarters() -> Picture:
    """Four quarters of four colours, 96 × 64, no two orientations alike."""
    picture = np.zeros((64, 96, 3), dtype=np.uint8)
    picture[:32, :48], picture[:32, 48:] = (220, 30, 30), (30, 200, 40)
    picture[32:, :48], picture[32:, 48:] = (40, 40, 220), (230, 230, 230)
    return picture


def turn(picture: Picture) -> Picture:
    """A quarter clockwise: what was the left side, read from the bottom up, becomes the top row."""
    return np.stack([picture[::-1, column] for column in range(picture.shape[1])])


def flip(picture: Picture) -> Picture:
    return picture[:, ::-1]


@pytest.mark.parametrize("mirrored", [False, True])
@pytest.mark.parametrize("turns", [0, 1, 2, 3])
def test_one_turn_and_one_flip_make_all_eight_orientations(
    tmp_path: Path, turns: int, mirrored: bool
) -> None:
    path = encode(tmp_path / "held.mp4", [quarters()] * 3, rotation=90 * turns, mirrored=mirrored)
    expected = quarters()
    for _ in range(turns):
        expected = turn(expected)
    expected = flip(expected) if mirrored else expected
    index = read_index(path)
    ((_, shown),) = take_pictures(path, index, [1])
    assert index.size == (expected.shape[1], expected.shape[0])
    assert np.abs(shown.astype(int) - expected).mean() < 12


# The matrices of ISO/IEC 14496-12 for the eight orientations of the Exif standard's tag 274, from memory.
EXIF = {
    1: ((ONE, 0, 0, ONE), (0, False)),
    2: ((-ONE, 0, 0, ONE), (0, True)),
    3: ((-ONE, 0, 0, -ONE), (180, False)),
    4: ((ONE, 0, 0, -ONE), (180, True)),
    5: ((0, ONE, ONE, 0), (90, True)),
    6: ((0, ONE, -ONE, 0), (90, False)),
    7: ((0, -ONE, -ONE, 0), (270, True)),
    8: ((0, -ONE, ONE, 0), (270, False)),
}


@pytest.mark.parametrize("orientation", EXIF)
def test_a_display_matrix_is_one_turn_and_at_most_one_flip(orientation: int) -> None:
    (a, b, c, d), expected = EXIF[orientation]
    assert from_display_matrix((a, b, 0, c, d, 0, 0, 0, 1 << 30)) == expected


def test_a_slanted_display_matrix_is_refused() -> None:
    half = round(ONE * np.sqrt(0.5))
    with pytest.raises(FootageError, match="45°"):
        from_display_matrix((half, half, 0, -half, half, 0, 0, 0, 1 << 30))


@pytest.mark.parametrize(
    ("aspect", "size"), [(Fraction(4, 3), (128, 64)), (Fraction(2, 3), (96, 96)), (Fraction(1), (96, 64))]
)
def test_wide_pixels_stretch_the_width_and_tall_ones_the_height(
    tmp_path: Path, aspect: Fraction, size: tuple[int, int]
) -> None:
    path = encode(tmp_path / "anamorphic.mp4", [quarters()] * 3, pixel_aspect=aspect)
    index = read_index(path)
    ((_, shown),) = take_pictures(path, index, [2])
    assert index.size == size == (shown.shape[1], shown.shape[0])
    assert index.pixel_aspect == aspect
    width, height = size
    assert shown[height // 4, width // 2 - 4][0] > 150 > shown[height // 4, width // 2 + 3][0]


def test_pixels_are_made_square_before_the_picture_is_turned() -> None:
    assert Upright(90, False, Fraction(2)).size((100, 50)) == (50, 200)
