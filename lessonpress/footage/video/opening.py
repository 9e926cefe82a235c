"""Opening a video file: which kinds are read, and what is said of those that are not.

Only containers that carry their own timestamps or a fixed rate are read, from the named file alone: a
playlist that points to other files or to the network is not followed.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from pathlib import Path
from typing import Any

import av
from av.container import InputContainer
from av.stream import Disposition
from av.video.stream import VideoStream

from lessonpress.footage.video.bounds import MOST_PIXELS
from lessonpress.footage.video.failure import FootageError

CONTAINERS = "mov,mp4,m4a,3gp,3g2,mj2,matroska,webm,avi,mpegts,mpeg,ogg,asf,flv,mxf"
# Before its version 19 the library raises on words of a file that are not UTF-8 unless this is passed; from
# then on it keeps such bytes and knows the word no more.
_ODD_TEXT: dict[str, Any] = {} if int(av.__version__.split(".")[0]) >= 19 else {"metadata_errors": "replace"}
EXPORT_AGAIN = "copy it from the camera again, or export it as MP4 (H.264)"


# Check sums in the stream are held against the pictures, and a packet with a fault is reported, not repaired.
# One thread: see `playing`. No picture is decoded that is larger than what is worked on.
DECODING = {"err_detect": "crccheck+bitstream+buffer+explode", "max_pixels": str(MOST_PIXELS)}


@contextmanager
def opened(
    path: Path, options: Mapping[str, str] | None = None
) -> Iterator[tuple[InputContainer, VideoStream]]:
    """The file and its first real video stream, closed afterwards. Raises FootageError.

    options: more of the demuxer's own.
    """
    _refuse_what_is_no_file(path)
    try:
        container = av.open(
            f"file:{path.absolute()}",
            options={"format_whitelist": CONTAINERS, "protocol_whitelist": "file", **(options or {})},
            **_ODD_TEXT,
        )
    except PermissionError as fault:
        raise FootageError(f"{path.name} may not be read", "give yourself the right to read it") from fault
    except (av.FFmpegError, OSError, ValueError) as fault:
        raise FootageError(f"{path.name} is not a whole video file of a known kind", EXPORT_AGAIN) from fault
    with container:
        yield container, _video_stream(container, path)


def _refuse_what_is_no_file(path: Path) -> None:
    if not path.exists():
        raise FootageError(f"there is no file {path.name}", "put the video there, or correct the name")
    if not path.is_file():
        raise FootageError(f"{path.name} is not a file", "name the video file itself")
    if path.stat().st_size == 0:
        raise FootageError(f"{path.name} is empty", EXPORT_AGAIN)


def _video_stream(container: InputContainer, path: Path) -> VideoStream:
    for stream in container.streams.video:
        if not stream.disposition & Disposition.attached_pic:
            if stream.codec_context is None:  # it does not say how it is encoded
                raise FootageError(f"{path.name} is encoded in no way that is known here", EXPORT_AGAIN)
            stream.codec_context.thread_count = 1
            stream.codec_context.options = DECODING
            return stream
    raise FootageError(f"{path.name} holds no moving pictures", "choose the file that holds the video")
