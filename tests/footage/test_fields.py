"""Interlaced material is made whole on the card's word."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import numpy as np

from lessonpress.footage.video.index import read_index
from lessonpress.footage.video.pictures import take_pictures
from tests.footage.conftest import Picture
from tests.studio import strip
from tests.studio.film import encode

INTERLACED = {"flags": "+ildct+ilme", "x264-params": "tff=1"}


def combed(count: int) -> Iterator[Picture]:
    """An edge that moves 8 px from field to field: even lines first, odd lines half a picture later."""
    for number in range(count):
        picture = np.full((180, 320, 3), 40, dtype=np.uint8)
        picture[0::2, : 60 + 16 * (number % 12)] = 210
        picture[1::2, : 68 + 16 * (number % 12)] = 210
        yield strip.stamp(picture, number)


def combing(picture: Picture) -> float:
    """Mean difference of a line from the mean of its neighbours, in the lower half of the picture."""
    grey = picture[90:].astype(float).mean(axis=2)
    return float(np.abs(grey[1:-1] - (grey[:-2] + grey[2:]) / 2).mean())


def test_two_fields_become_one_picture_without_combing(tmp_path: Path) -> None:
    path = encode(tmp_path / "fields.mp4", combed(48), options=INTERLACED, gop=12)
    index = read_index(path)
    assert index.interlaced
    asked = [0, 20, 41]
    raw = dict(take_pictures(path, index, asked))
    whole = dict(take_pictures(path, index, asked, deinterlace=True))
    assert {number: strip.read(picture) for number, picture in whole.items()} == {0: 0, 20: 20, 41: 41}
    for number in asked:
        assert combing(whole[number]) < 0.35 * combing(raw[number])


def test_a_deinterlaced_picture_does_not_depend_on_where_decoding_began(tmp_path: Path) -> None:
    path = encode(tmp_path / "fields.mp4", combed(48), options=INTERLACED, gop=12)
    index = read_index(path)
    everything = dict(take_pictures(path, index, range(48), deinterlace=True))
    for number in (0, 1, 23, 24, 25, 26, 40, 47):
        ((_, alone),) = take_pictures(path, index, [number], deinterlace=True)
        np.testing.assert_array_equal(alone, everything[number])
