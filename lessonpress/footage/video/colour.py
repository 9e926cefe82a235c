"""Stored colours to RGB: which matrix and which range a decoded picture was coded with."""

from __future__ import annotations

from typing import Any

import cv2
import numpy as np
from av.video.frame import VideoFrame
from av.video.reformatter import ColorRange, Colorspace, Interpolation, VideoReformatter
from numpy.typing import NDArray

# Matrix numbers of ITU-T H.273, table 4, that a file may name, and the conversion each asks for.
MATRICES = {
    1: Colorspace.ITU709,
    4: Colorspace.FCC,
    5: Colorspace.ITU601,
    6: Colorspace.ITU601,
    7: Colorspace.SMPTE240M,
    9: Colorspace.BT2020,
    10: Colorspace.BT2020,
}
# Colour is stored at half the picture's resolution: it is interpolated, not repeated. Without exact rounding
# the library takes a path ten times as fast that repeats it, and edges of red and blue go ragged.
SMOOTHLY = Interpolation.BILINEAR | Interpolation.ACCURATE_RND | Interpolation.FULL_CHR_H_INT


class Developer:
    """Turns decoded frames into RGB arrays as stored (not yet upright)."""

    def __init__(self) -> None:
        self._reformatter = VideoReformatter()

    def rgb(self, frame: VideoFrame) -> NDArray[np.uint8]:
        """RGB uint8 (h, w, 3). Depths over 8 bit are rounded to 8; the transfer curve is left as it is."""
        developed = self._reformatter.reformat(
            frame,
            format="rgb24",
            src_colorspace=matrix_of(frame),
            dst_colorspace=matrix_of(frame),
            src_color_range=range_of(frame),
            dst_color_range=ColorRange.JPEG,
            interpolation=SMOOTHLY,
            threads=1,
        )
        return np.asarray(developed.to_ndarray(), dtype=np.uint8)

    def grey(self, frame: VideoFrame) -> NDArray[np.uint8]:
        """uint8 (h, w): luma, as the file holds it, or of RGB where it holds something else."""
        luma = _luma(frame)
        if luma is None:
            return np.asarray(cv2.cvtColor(self.rgb(frame), cv2.COLOR_RGB2GRAY), dtype=np.uint8)
        levels, bits = luma
        over = 1 << (bits - 8)
        if range_of(frame) == ColorRange.JPEG:
            return _rounded(levels, 255 / (256 * over - 1), 0.0)
        return _rounded(levels, 255 / (219 * over), -16 * 255 / 219)  # ITU-R BT.709-6, 4.6


def _luma(frame: VideoFrame) -> tuple[NDArray[Any], int] | None:
    """Code values of luma (h, w) and their bits; None where they are in no plane of their own."""
    form = frame.format
    if not (form.is_planar and form.name.startswith("yuv")) or form.is_big_endian:
        return None
    plane, bits = frame.planes[0], form.components[0].bits
    kind = np.dtype(np.uint8 if bits == 8 else "<u2")
    lines = np.frombuffer(memoryview(plane), dtype=kind).reshape(-1, plane.line_size // kind.itemsize)
    return lines[: plane.height, : plane.width], bits


def _rounded(levels: NDArray[Any], scale: float, shift: float) -> NDArray[np.uint8]:
    above = np.maximum(levels, round(-shift / scale))  # what is blacker than black is black
    return np.asarray(cv2.convertScaleAbs(above, alpha=scale, beta=shift), dtype=np.uint8)


def matrix_of(frame: VideoFrame) -> Colorspace:
    """The matrix the file names; where it names none, the usual guess by height.

    Up to 576 lines, and narrower than 1280, is standard definition: ITU-R BT.601. Anything larger is BT.709.
    """
    named = MATRICES.get(int(frame.colorspace))
    if named is not None:
        return named
    small = frame.height <= 576 and frame.width < 1280
    return Colorspace.ITU601 if small else Colorspace.ITU709


def range_of(frame: VideoFrame) -> ColorRange:
    """The range the file names; where it names none, limited, save for formats full by definition."""
    if frame.color_range in (ColorRange.MPEG, ColorRange.JPEG):
        return ColorRange(int(frame.color_range))
    full = frame.format.name.startswith("yuvj") or frame.format.is_rgb
    return ColorRange.JPEG if full else ColorRange.MPEG
