"""Stored colours to RGB: which matrix and which range a decoded picture was coded with."""

from __future__ import annotations

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
