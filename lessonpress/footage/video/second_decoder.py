"""A second decoder for a codec whose usual one does not tell of damage.

Decoders of one stream have to give the same pictures, bit for bit (VP8: RFC 6386, section 1). FFmpeg's own
decoder of VP8 leaves what it cannot read as its memory was, and says nothing: such a picture is another each
time. libvpx reads on with zeros. So where the two differ, the packet is damaged. Measured on 70 damaged
films: each picture that came out otherwise after a jump is one on which they differ.
"""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path
from typing import cast

import av
import numpy as np
from av.packet import Packet
from av.video.codeccontext import VideoCodecContext
from av.video.frame import VideoFrame
from av.video.plane import VideoPlane
from av.video.stream import VideoStream
from numpy.typing import NDArray

from lessonpress.footage.video.failure import FootageError
from lessonpress.footage.video.opening import DECODING, EXPORT_AGAIN

SECOND = {"vp8": "libvpx"}  # the usual decoder → another one
_DRAWN = 3  # planes: a fourth is of what is seen through


class SecondDecoder:
    """Is given each packet of a stream in turn, and held against what the usual decoder made of it."""

    def __init__(self, stream: VideoStream, path: Path) -> None:
        """Raises FootageError where this installation lacks it."""
        self._context: VideoCodecContext | None = None
        name = SECOND.get(stream.codec_context.name)
        if name is None:
            return
        try:
            self._context = cast(VideoCodecContext, av.CodecContext.create(name, "r"))
        except ValueError as fault:
            wrong = f"damage to {path.name} would not be seen: this installation lacks the decoder {name}"
            raise FootageError(wrong, EXPORT_AGAIN) from fault
        self._context.thread_count = 1
        self._context.options = {"max_pixels": DECODING["max_pixels"]}

    def differs(self, packet: Packet[VideoStream], frames: Sequence[VideoFrame]) -> bool:
        """Whether it makes other pictures of a packet than `frames`."""
        if self._context is None:
            return False
        try:
            others = self._context.decode(packet)
        except av.FFmpegError:
            return True
        return len(frames) != len(others) or any(map(_unlike, frames, others))


def _unlike(one: VideoFrame, other: VideoFrame) -> bool:
    if (one.width, one.height) != (other.width, other.height):
        return True
    planes = zip(one.planes[:_DRAWN], other.planes[:_DRAWN], strict=True)
    return any(not np.array_equal(pixels_of(a), pixels_of(b)) for a, b in planes)


def pixels_of(plane: VideoPlane, wide: int = 1) -> NDArray[np.uint8]:
    """The bytes of a plane, a line a row, without what fills up its lines. wide: bytes of a pixel."""
    lines = np.frombuffer(memoryview(plane), dtype=np.uint8).reshape(-1, plane.line_size)
    return lines[: plane.height, : plane.width * wide]
