"""Encodes pictures as a video for loops."""

from __future__ import annotations

import tempfile
from collections.abc import Iterable, Iterator, Mapping, Sequence
from fractions import Fraction
from pathlib import Path

import av
import numpy as np
from av.bitstream import BitStreamFilterContext
from av.container import OutputContainer
from av.packet import Packet
from av.video.frame import VideoFrame
from av.video.stream import VideoStream
from numpy.typing import NDArray

TIME_BASE = Fraction(1, 90_000)
SETTINGS = {"preset": "medium", "crf": "24", "bf": "0"}  # with B-frames the file would seem shorter
WRITTEN = {"movflags": "+faststart", "fflags": "+bitexact"}  # without the name of the program that wrote it
UNSIGNED = (
    "filter_units=remove_types=6"  # supplemental information (ITU-T H.264, 7.4.1): the encoder's settings
)
MANNER = ("one thread", *SETTINGS.items(), UNSIGNED)  # of writing: a film kept from another is made anew
BT709, LIMITED = 1, 1  # numbers of the matrix and range in ITU-T H.273


def encoded_loop(
    pictures: Iterable[NDArray[np.uint8]], shown: Sequence[float], size: tuple[int, int]
) -> bytes:
    """An H.264 file in an MP4 container, each picture shown for its own time.

    pictures: RGB uint8 (h, w, 3), all of `size` (width, height), both even. shown: seconds of each.
    """
    with tempfile.TemporaryDirectory() as folder:
        # a file, not memory: moving the index to the front, so that play can begin at once, reads it again
        path = Path(folder) / "loop.mp4"
        _write(path, pictures, shown, size)
        return path.read_bytes()


def _write(
    path: Path, pictures: Iterable[NDArray[np.uint8]], shown: Sequence[float], size: tuple[int, int]
) -> None:
    with av.open(str(path), "w", format="mp4", options=WRITTEN) as container:
        stream = container.add_stream("libx264", rate=30, options=SETTINGS)
        stream.width, stream.height = size
        stream.pix_fmt = "yuv420p"
        stream.codec_context.time_base = stream.time_base = TIME_BASE
        stream.codec_context.colorspace, stream.codec_context.color_range = BT709, LIMITED
        stream.codec_context.thread_count = 1  # with more, the pictures depend on how many cores there are
        unsigned = BitStreamFilterContext(UNSIGNED, stream)
        begun = 0.0
        ticks: dict[int, int] = {}
        for picture, seconds in zip(pictures, shown, strict=True):
            frame = _frame(picture, begun)
            ticks[round(begun / TIME_BASE)] = round(seconds / TIME_BASE)
            begun += seconds
            _mux(container, _filtered(unsigned, stream.encode(frame)), ticks)
        _mux(container, _filtered(unsigned, stream.encode(None)), ticks)
        _mux(container, unsigned.filter(None), ticks)


def _filtered(
    unsigned: BitStreamFilterContext, packets: Iterable[Packet[VideoStream]]
) -> Iterator[Packet[VideoStream]]:
    for packet in packets:
        yield from unsigned.filter(packet)


def _mux(
    container: OutputContainer, packets: Iterable[Packet[VideoStream]], ticks: Mapping[int, int]
) -> None:
    """Write packets, each with how long its picture stays: nothing else says it of the last one."""
    for packet in packets:
        assert packet.pts is not None
        packet.duration = ticks[packet.pts]
        container.mux(packet)


def _frame(picture: NDArray[np.uint8], seconds: float) -> VideoFrame:
    frame = VideoFrame.from_ndarray(picture, format="rgb24").reformat(format="yuv420p", dst_colorspace=BT709)
    frame.pts, frame.time_base = round(seconds / TIME_BASE), TIME_BASE
    return frame
