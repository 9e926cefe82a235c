"""The studio's film laboratory: drawn pictures in, a video file out.

    encode(path, pictures)                                        # H.264, 30 pictures a second, MP4
    encode(path, pictures, codec="libx265", gop=300, b_frames=3)
    encode(path, pictures, codec="mjpeg", pix_fmt="yuvj420p")     # .avi, .mov or .mkv
    encode(path, pictures, times=[0.0, 0.03, 0.1, …])             # variable frame rate
    encode(path, pictures, rotation=90)                           # a telephone held upright

The container follows from the path's suffix: .mp4, .mov, .mkv, .webm, .avi, .ts. Encoders at hand: libx264,
libx265, libvpx-vp9, libsvtav1, mjpeg, prores_ks, ffv1. Pictures are RGB uint8 arrays (h, w, 3), all of one
size, as they lie in the file: `rotation` is what a viewer does to them. They may come from a generator.
"""

from __future__ import annotations

import os
from collections.abc import Iterable, Iterator, Mapping, Sequence
from contextlib import contextmanager
from fractions import Fraction
from pathlib import Path

os.environ.setdefault("SVT_LOG", "1")  # the AV1 encoder else reports its settings on every run

import av
import numpy as np
from av.video.frame import VideoFrame
from av.video.reformatter import VideoReformatter
from numpy.typing import NDArray

# Quick and quiet settings for each encoder; `options` overrides them one by one.
SETTINGS: dict[str, dict[str, str]] = {
    "libx264": {"preset": "veryfast", "crf": "16"},
    "libx265": {"preset": "ultrafast", "crf": "16", "x265-params": "log-level=none"},
    "libvpx-vp9": {"deadline": "realtime", "cpu-used": "8", "crf": "20", "b": "0"},
    "libsvtav1": {"preset": "12", "crf": "25", "svtav1-params": "lp=2"},
    "mjpeg": {"qmin": "2", "qmax": "3"},
}
BT601, BT709 = 5, 1  # numbers of the matrix in ITU-T H.273, table 4
LIMITED, FULL = 1, 2
TIME_BASE = Fraction(1, 90_000)  # used when `times` are given


def encode(
    path: Path,
    frames: Iterable[NDArray[np.uint8] | VideoFrame],
    *,
    codec: str = "libx264",
    fps: int | Fraction = 30,
    pix_fmt: str = "yuv420p",
    options: Mapping[str, str] | None = None,
    container_options: Mapping[str, str] | None = None,
    gop: int | None = None,
    b_frames: int | None = None,
    times: Sequence[float] | None = None,
    start: float = 0.0,
    rotation: int = 0,
    mirrored: bool = False,
    pixel_aspect: Fraction | None = None,
    matrix: int | None = None,
    colour_range: int | None = None,
    timecode: str | None = None,
    title: str | None = None,
    sound: bool = False,
) -> Path:
    """Write a video and return its path.

    fps: pictures a second of the file. times: seconds of each picture instead (variable rate). start: seconds
    added to all. gop: most pictures between key frames; b_frames: pictures coded from both sides in a row.
    rotation: degrees clockwise by which a viewer turns the stored picture, 0, 90, 180 or 270; mirrored: the
    viewer then mirrors it left to right. pixel_aspect: width to height of a stored pixel. matrix,
    colour_range: the tags written (BT601 or BT709, LIMITED or FULL), by which arrays are also converted;
    without them BT.601 limited, untagged. VideoFrames are encoded as they are. sound: a second stream with
    a quiet tone.
    """
    with _own_priority(), av.open(str(path), "w", options=dict(container_options or {})) as container:
        merged = {**SETTINGS.get(codec, {}), **(options or {})}
        stream = container.add_stream(codec, rate=Fraction(fps), options=merged)
        assert isinstance(stream, av.VideoStream)
        context = stream.codec_context
        stream.pix_fmt = pix_fmt
        if gop is not None:
            context.gop_size = gop
        if b_frames is not None:
            context.max_b_frames = b_frames
        if pixel_aspect is not None:
            context.sample_aspect_ratio = pixel_aspect
        if matrix is not None:
            context.colorspace = matrix
        if colour_range is not None:
            context.color_range = colour_range
        if timecode is not None:
            stream.metadata["timecode"] = timecode
        if rotation or mirrored:
            stream.set_display_rotation(-rotation, hflip=mirrored)
        base = 1 / Fraction(fps) if times is None else TIME_BASE
        context.time_base = base
        if title is not None:
            container.metadata["title"] = title
        tone = container.add_stream("aac", rate=44_100) if sound else None
        reformatter = VideoReformatter()
        for number, picture in enumerate(frames):
            frame = _as_frame(picture, pix_fmt, matrix, colour_range, reformatter)
            if number == 0:
                stream.width, stream.height = frame.width, frame.height
            seconds = Fraction(number) / Fraction(fps) if times is None else Fraction(times[number])
            frame.time_base = base
            frame.pts = round((seconds + Fraction(start)) / base)
            container.mux(stream.encode(frame))
        container.mux(stream.encode(None))
        if tone is not None:
            _add_tone(container, tone)
    return path


@contextmanager
def _own_priority() -> Iterator[None]:
    """Gives the thread back its scheduling when the block ends.

    Run by root, the AV1 encoder raises the thread that opens it to real time, above all else on the machine,
    and what that thread starts afterwards inherits it: two browsers then keep two cores from everybody.
    """
    if not hasattr(os, "sched_getscheduler"):
        yield
        return
    policy, parameters = os.sched_getscheduler(0), os.sched_getparam(0)
    try:
        yield
    finally:
        if (os.sched_getscheduler(0), os.sched_getparam(0)) != (policy, parameters):
            os.sched_setscheduler(0, policy, parameters)


def _as_frame(
    picture: NDArray[np.uint8] | VideoFrame,
    pix_fmt: str,
    matrix: int | None,
    colour_range: int | None,
    reformatter: VideoReformatter,
) -> VideoFrame:
    if isinstance(picture, VideoFrame):
        return picture
    frame = VideoFrame.from_ndarray(np.ascontiguousarray(picture), format="rgb24")
    if pix_fmt in ("rgb24", "gbrp"):
        return frame.reformat(format=pix_fmt)
    full = colour_range == FULL or (colour_range is None and pix_fmt.startswith("yuvj"))
    return reformatter.reformat(
        frame,
        format=pix_fmt,
        dst_colorspace=matrix or BT601,
        src_color_range=FULL,
        dst_color_range=FULL if full else LIMITED,
        interpolation="BICUBIC",
        threads=1,
    )


def _add_tone(container: av.container.OutputContainer, stream: av.stream.Stream) -> None:
    assert isinstance(stream, av.AudioStream)
    samples = (0.1 * np.sin(np.arange(44_100) * 2 * np.pi * 440 / 44_100)).astype(np.float32)
    for start in range(0, 44_100, 1024):
        frame = av.AudioFrame.from_ndarray(samples[None, start : start + 1024], format="fltp", layout="mono")
        frame.sample_rate, frame.pts, frame.time_base = 44_100, start, Fraction(1, 44_100)
        container.mux(stream.encode(frame))
    container.mux(stream.encode(None))
