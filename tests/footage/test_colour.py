"""Colour bars come back as drawn, whatever matrix and range they were coded with."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest
from av.video.frame import VideoFrame
from numpy.typing import NDArray

from lessonpress.footage.video.index import read_index
from lessonpress.footage.video.pictures import take_greys, take_pictures
from tests.footage.conftest import Picture
from tests.studio.film import BT601, BT709, FULL, LIMITED, encode

BARS = np.array(
    [
        [1, 1, 1],
        [1, 1, 0],
        [0, 1, 1],
        [0, 1, 0],
        [1, 0, 1],
        [1, 0, 0],
        [0, 0, 1],
        [0, 0, 0],
        [0.5, 0.25, 0.75],
    ]
)
# Weights of red and blue in luma: ITU-R BT.601-7, 2.5.1, and BT.709-6, table 3.
WEIGHTS = {BT601: (0.299, 0.114), BT709: (0.2126, 0.0722)}


def luma_of(matrix: int) -> NDArray[np.float64]:
    red, blue = WEIGHTS[matrix]
    return BARS @ np.array([red, 1 - red - blue, blue])


def coded(matrix: int, colour_range: int, bits: int = 8) -> NDArray[np.float64]:
    """(bar, Y′CbCr) code values: E′Y = Kr R + (1−Kr−Kb) G + Kb B, colour differences scaled to ±½; then
    quantised by BT.709-6, 4.6 (limited), or to the whole of the scale (full)."""
    red, blue = WEIGHTS[matrix]
    luma = luma_of(matrix)
    pb, pr = (BARS[:, 2] - luma) / (2 - 2 * blue), (BARS[:, 0] - luma) / (2 - 2 * red)
    unit = 1 << (bits - 8)
    if colour_range == LIMITED:
        scaled = np.stack([219 * luma + 16, 224 * pb + 128, 224 * pr + 128], axis=1) * unit
    else:
        top = (1 << bits) - 1
        scaled = np.stack([top * luma, top * pb + 128 * unit, top * pr + 128 * unit], axis=1)
    return np.asarray(np.rint(np.clip(scaled, 0, (1 << bits) - 1)), dtype=np.float64)


def frame_of(codes: NDArray[np.generic], height: int, bits: int = 8, bar: int = 32) -> VideoFrame:
    width, kind = len(codes) * bar, np.uint8 if bits == 8 else np.dtype("<u2")
    frame = VideoFrame(width, height, "yuv444p" if bits == 8 else "yuv444p10le")
    for plane, values in zip(frame.planes, codes.T, strict=True):
        lines = np.zeros((height, plane.line_size // np.dtype(kind).itemsize), dtype=kind)
        lines[:, :width] = np.repeat(values, bar)
        plane.update(lines.tobytes())
    return frame


def shown_bars(path: Path, bar: int = 32) -> Picture:
    ((_, picture),) = take_pictures(path, read_index(path), [1])
    return picture[picture.shape[0] // 2, bar // 2 :: bar]


def grey_bars(path: Path, bar: int = 32) -> Picture:
    ((_, picture),) = take_greys(path, read_index(path), [1])
    return picture[picture.shape[0] // 2, bar // 2 :: bar]


LOSSLESS = {"qp": "0", "crf": "0", "preset": "ultrafast"}


@pytest.mark.parametrize("bits", [8, 10])
@pytest.mark.parametrize("colour_range", [LIMITED, FULL])
@pytest.mark.parametrize("matrix", [BT601, BT709])
def test_bars_come_back_within_two_levels(tmp_path: Path, matrix: int, colour_range: int, bits: int) -> None:
    path = encode(
        tmp_path / "bars.mp4",
        [frame_of(coded(matrix, colour_range, bits), 64, bits) for _ in range(3)],
        pix_fmt="yuv444p" if bits == 8 else "yuv444p10le",
        options=LOSSLESS,
        matrix=matrix,
        colour_range=colour_range,
    )
    assert np.abs(shown_bars(path) - BARS * 255).max() <= 2
    assert np.abs(grey_bars(path) - luma_of(matrix) * 255).max() <= 1


@pytest.mark.parametrize(("height", "matrix"), [(480, BT601), (576, BT601), (578, BT709), (720, BT709)])
def test_untagged_bars_are_read_as_bt_601_up_to_576_lines_and_as_bt_709_above(
    tmp_path: Path, height: int, matrix: int
) -> None:
    path = encode(
        tmp_path / "bars.mp4",
        [frame_of(coded(matrix, LIMITED), height) for _ in range(2)],
        pix_fmt="yuv444p",
        options=LOSSLESS,
    )
    assert np.abs(shown_bars(path) - BARS * 255).max() <= 2


def test_the_bars_of_smpte_rp_219_are_75_per_cent(tmp_path: Path) -> None:
    """8-bit code values of its 75 % bars, from memory: white, yellow, cyan, green, magenta, red, blue."""
    codes = np.array(
        [
            [180, 128, 128], [168, 44, 136], [145, 147, 44], [134, 63, 52],
            [63, 193, 204], [51, 109, 212], [28, 212, 120],
        ]
    )  # fmt: skip
    path = encode(
        tmp_path / "rp219.mp4",
        [frame_of(codes, 64) for _ in range(2)],
        pix_fmt="yuv444p",
        options=LOSSLESS,
        matrix=BT709,
        colour_range=LIMITED,
    )
    assert np.abs(shown_bars(path) - BARS[:7] * 0.75 * 255).max() <= 3


def test_motion_jpeg_is_read_as_full_range_bt_601(tmp_path: Path) -> None:
    """As JFIF (ITU-T T.871, clause 7) says of JPEG."""
    path = encode(
        tmp_path / "bars.avi",
        [frame_of(coded(BT601, FULL), 64) for _ in range(2)],
        codec="mjpeg",
        pix_fmt="yuv444p",
        colour_range=FULL,
    )
    assert np.abs(shown_bars(path) - BARS * 255).max() <= 6
