"""Which pictures a file holds, and when each is shown.

Frame n is the n-th picture that a decoder shows when the whole file is played from its beginning, whatever
the order in which the file stores them. The index is made by playing the file once; nothing is guessed from
rates.
"""

from __future__ import annotations

import json
import struct
import zlib
from bisect import bisect_right
from collections.abc import Iterator, Mapping
from dataclasses import asdict, dataclass
from fractions import Fraction
from hashlib import file_digest
from itertools import pairwise
from pathlib import Path
from typing import Any, cast

import av
import numpy as np
from av.container import InputContainer
from av.packet import Packet
from av.video.frame import VideoFrame
from av.video.stream import VideoStream

from lessonpress.footage.failure import FootageError
from lessonpress.footage.opening import EXPORT_AGAIN, opened
from lessonpress.footage.upright import Upright, from_display_matrix

CHECKED_LINES = 8  # every eighth line of a picture goes into its check sum


@dataclass(frozen=True)
class ClipIndex:
    """The pictures of one file.

    times: seconds since frame 0 at which each is shown. size: (width, height) of the upright, square-pixelled
    picture in px. rotation (degrees clockwise), mirrored, pixel_aspect (width to height of a stored pixel):
    how the stored picture becomes that one, see `upright`. rate: pictures a second as the file names it, an
    even rate to reckon timecodes with. start_timecode: of frame 0, as written in the file. codec: the
    decoder's name. fingerprint: SHA-256 of the file, hexadecimal. key_frames: frames at which decoding can
    begin. interlaced: any picture is stored as two fields. duration: seconds from frame 0 to the end of the
    last picture. start: seconds by which the file's own clock is ahead of frame 0. file_size: bytes. pts: the
    timestamps as stored, in units of time_base seconds; empty where the container stores none that tell
    frames apart, and then frames are found by counting. sums: a check sum of each picture as decoded.
    """

    times: tuple[float, ...]
    size: tuple[int, int]
    rotation: int
    mirrored: bool
    pixel_aspect: Fraction
    rate: Fraction
    start_timecode: str | None
    codec: str
    fingerprint: str
    key_frames: tuple[int, ...]
    interlaced: bool
    duration: float
    start: float
    file_size: int
    time_base: Fraction
    pts: tuple[int, ...]
    sums: tuple[int, ...]

    def __len__(self) -> int:
        return len(self.times)

    @property
    def upright(self) -> Upright:
        return Upright(self.rotation, self.mirrored, self.pixel_aspect)

    def frame_at(self, seconds: float) -> int | None:
        """The frame on screen `seconds` after frame 0 appeared; None before it and past the clip's end."""
        if seconds < 0 or seconds >= max(self.duration, self.times[-1] + 1e-9):
            return None
        return bisect_right(self.times, seconds + 1e-9) - 1

    def to_json(self) -> str:
        """The index as JSON text; fractions as "30000/1001"."""
        return json.dumps(asdict(self), default=str)

    @classmethod
    def from_json(cls, text: str) -> ClipIndex:
        """The index from its own JSON text. Raises ValueError or TypeError where it is something else."""
        raw: dict[str, Any] = json.loads(text)
        for name in ("pixel_aspect", "rate", "time_base"):
            raw[name] = Fraction(raw[name])
        for name in ("times", "size", "key_frames", "pts", "sums"):
            raw[name] = tuple(raw[name])
        return cls(**raw)


@dataclass(frozen=True)
class _Shown:
    """What the index keeps of one decoded picture."""

    pts: int | None
    ticks: int
    key: bool
    interlaced: bool
    size: tuple[int, int]
    matrix: tuple[int, ...] | None
    check: int


def read_index(path: Path) -> ClipIndex:
    """Play the file once and list its pictures. Raises FootageError for what is no whole video."""
    with opened(path) as (container, stream):
        shown = list(_played(container, stream, path))
        if not shown:
            raise FootageError(f"{path.name} holds no picture that can be decoded", EXPORT_AGAIN)
        _refuse_a_cut_file(container, stream, path, shown)
        return _index(container, stream, path, shown)


def check_sum(frame: VideoFrame) -> int:
    """A number that tells decoded pictures apart: CRC-32 of every eighth line of the first plane."""
    plane = frame.planes[0]
    lines = np.frombuffer(memoryview(plane), dtype=np.uint8).reshape(-1, plane.line_size)
    planar = frame.format.is_planar
    bits = frame.format.components[0].bits if planar else frame.format.padded_bits_per_pixel
    length = plane.width * -(-bits // 8)
    return zlib.crc32(lines[: plane.height : CHECKED_LINES, :length].tobytes())


def fingerprint(path: Path) -> str:
    """SHA-256 of the whole file, as 64 hexadecimal digits."""
    with path.open("rb") as file:
        return file_digest(file, "sha256").hexdigest()


def _played(container: InputContainer, stream: VideoStream, path: Path) -> Iterator[_Shown]:
    """Every picture from the file's beginning; what cannot be decoded before the first one is passed over."""
    begun = False
    try:
        for packet in container.demux(stream):
            for frame in _decoded(packet, begun):
                if frame.is_corrupt and begun:
                    raise FootageError(f"{path.name} is damaged at {_clock(frame.time)}", EXPORT_AGAIN)
                if frame.is_corrupt:
                    continue
                begun = True
                yield _seen(frame)
    except av.FFmpegError as fault:
        raise FootageError(f"{path.name} is damaged: {fault.strerror}", EXPORT_AGAIN) from fault


def _decoded(packet: Packet[VideoStream], begun: bool) -> list[VideoFrame]:
    try:
        return packet.decode()
    except av.InvalidDataError:
        if begun:
            raise
        return []


def _clock(seconds: float | None) -> str:
    return "an unknown time" if seconds is None else f"{seconds:.2f} s"


def _seen(frame: VideoFrame) -> _Shown:
    return _Shown(
        pts=frame.pts,
        ticks=frame.duration or 0,
        key=frame.key_frame,
        interlaced=frame.interlaced_frame,
        size=(frame.width, frame.height),
        matrix=_display_matrix(frame),
        check=check_sum(frame),
    )


def _display_matrix(frame: VideoFrame) -> tuple[int, ...] | None:
    carried: Mapping[str, Any] = cast(Any, frame.side_data)
    data = carried.get("DISPLAYMATRIX")
    return None if data is None else struct.unpack("=9i", bytes(data)[:36])


def _refuse_a_cut_file(
    container: InputContainer, stream: VideoStream, path: Path, shown: list[_Shown]
) -> None:
    """Refuse a file whose own table, or stated length, reaches well past what is there."""
    there = path.stat().st_size
    cut = any(entry.pos + entry.size > there for entry in stream.index_entries)
    stated = _stated_end(container, stream)
    last = shown[-1].pts
    if stated is not None and last is not None and stream.time_base is not None:
        end = float((last + shown[-1].ticks) * stream.time_base)
        cut = cut or end < stated - max(0.5, 0.05 * stated)
    if cut:
        raise FootageError(
            f"{path.name} is cut short: {len(shown)} pictures are there and more are announced", EXPORT_AGAIN
        )


def _stated_end(container: InputContainer, stream: VideoStream) -> float | None:
    """When the last picture ends by the file's own word, in seconds of its clock (Matroska: as text)."""
    words = stream.metadata.get("DURATION", "").split(":")
    try:
        hours, minutes, seconds = (float(word) for word in words)
    except ValueError:
        alone = len(container.streams) == 1 and "matroska" in container.format.name
        return container.duration / av.time_base if alone and container.duration else None
    return hours * 3600 + minutes * 60 + seconds


def _index(container: InputContainer, stream: VideoStream, path: Path, shown: list[_Shown]) -> ClipIndex:
    first = shown[0]
    if any(picture.size != first.size for picture in shown):
        raise FootageError(f"{path.name} changes its picture size on the way", EXPORT_AGAIN)
    base = stream.time_base or Fraction(1)
    pts = _timestamps(container, shown)
    rate = _rate(stream, pts, base, path)
    times = _times(pts, base, rate, len(shown))
    rotation, mirrored = from_display_matrix(first.matrix) if first.matrix else (0, False)
    upright = Upright(rotation, mirrored, stream.sample_aspect_ratio or Fraction(1))
    return ClipIndex(
        times=times,
        size=upright.size(first.size),
        rotation=rotation,
        mirrored=mirrored,
        pixel_aspect=upright.pixel_aspect,
        rate=rate,
        start_timecode=_start_timecode(container, stream),
        codec=stream.codec_context.name,
        fingerprint=fingerprint(path),
        key_frames=tuple(number for number, picture in enumerate(shown) if picture.key) or (0,),
        interlaced=any(picture.interlaced for picture in shown),
        duration=times[-1] + _last_duration(shown, base, rate, bool(pts)),
        start=float(pts[0] * base) if pts else 0.0,
        file_size=path.stat().st_size,
        time_base=base,
        pts=pts,
        sums=tuple(picture.check for picture in shown),
    )


def _timestamps(container: InputContainer, shown: list[_Shown]) -> tuple[int, ...]:
    """The stored timestamps, or () for a container that has none for pictures stored out of order (AVI)."""
    pts = tuple(picture.pts for picture in shown if picture.pts is not None)
    in_order = len(pts) == len(shown) and all(early < late for early, late in pairwise(pts))
    if in_order:
        return pts
    if container.format.name == "avi":
        return ()
    raise FootageError("the file's timestamps do not tell its pictures apart", EXPORT_AGAIN)


def _rate(stream: VideoStream, pts: tuple[int, ...], base: Fraction, path: Path) -> Fraction:
    named = stream.guessed_rate or stream.average_rate
    if named:
        return Fraction(named)
    if len(pts) > 1:
        return Fraction(len(pts) - 1) / ((pts[-1] - pts[0]) * base)
    raise FootageError(f"{path.name} does not say how fast it plays", EXPORT_AGAIN)


def _times(pts: tuple[int, ...], base: Fraction, rate: Fraction, count: int) -> tuple[float, ...]:
    """Seconds since frame 0. Timestamps that a container rounded (Matroska: to 1 ms) go back to the even rate
    where every one of them agrees with it to one unit of the time base; otherwise they are kept as stored.
    """
    even = [number / rate for number in range(count)]
    stored = [(stamp - pts[0]) * base for stamp in pts]
    if not stored or all(abs(at - fair) <= base for at, fair in zip(stored, even, strict=True)):
        return tuple(float(fair) for fair in even)
    return tuple(float(at) for at in stored)


def _last_duration(shown: list[_Shown], base: Fraction, rate: Fraction, stamped: bool) -> float:
    ticks = shown[-1].ticks
    return float(ticks * base) if stamped and ticks else float(1 / rate)


def _start_timecode(container: InputContainer, stream: VideoStream) -> str | None:
    """The start timecode from the video stream, the file, or a timecode stream beside it."""
    for metadata in (stream.metadata, container.metadata, *(other.metadata for other in container.streams)):
        if "timecode" in metadata:
            return str(metadata["timecode"])
    return None
