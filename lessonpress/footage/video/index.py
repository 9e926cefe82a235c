"""Which pictures a file holds, and when each is shown.

Frame n is the n-th picture that a decoder shows when the whole file is played from its beginning, whatever
the order in which the file stores them. The index is made by playing the file once; nothing is guessed from
rates.
"""

from __future__ import annotations

import json
from bisect import bisect_left, bisect_right
from collections.abc import Sequence
from dataclasses import asdict, dataclass
from fractions import Fraction
from hashlib import file_digest
from pathlib import Path
from typing import Any

import av
from av.container import InputContainer
from av.video.stream import VideoStream

from lessonpress.footage.video.bounds import refuse_odd_pixels, refuse_odd_size
from lessonpress.footage.video.damage import Numbered, numbered
from lessonpress.footage.video.failure import FootageError
from lessonpress.footage.video.fields import NEIGHBOURS
from lessonpress.footage.video.opening import EXPORT_AGAIN, opened
from lessonpress.footage.video.playing import Played, Shown, play, whole_of
from lessonpress.footage.video.upright import Upright, from_display_matrix

_FORM = 2  # of an index as kept: raised when what goes into it is reckoned otherwise, as its check sums were


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
    timestamps as stored, in units of time_base seconds; empty where the container stores none of use
    frames apart, and then frames are found by counting. sums: a check sum of each picture as decoded, 0 where
    none was. damaged: frames that keep their number and have no picture to be believed, see `damage`.
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
    damaged: tuple[int, ...]

    def __len__(self) -> int:
        return len(self.times)

    @property
    def upright(self) -> Upright:
        return Upright(self.rotation, self.mirrored, self.pixel_aspect)

    def intact(self, *, deinterlace: bool = False) -> tuple[int, ...]:
        """The frames whose pictures can be taken. deinterlace: each is made from those beside it."""
        reach = NEIGHBOURS if deinterlace else 0
        bad = {frame + step for frame in self.damaged for step in range(-reach, reach + 1)}
        return tuple(frame for frame in range(len(self)) if frame not in bad)

    def is_damaged(self, frame: int) -> bool:
        at = bisect_left(self.damaged, frame)
        return self.damaged[at : at + 1] == (frame,)

    def frame_at(self, seconds: float) -> int | None:
        """The frame on screen `seconds` after frame 0 appeared; None before it and past the clip's end."""
        if seconds < 0 or seconds >= max(self.duration, self.times[-1] + 1e-9):
            return None
        return bisect_right(self.times, seconds + 1e-9) - 1

    def to_json(self) -> str:
        """The index as JSON text; fractions as "30000/1001"."""
        return json.dumps({"form": _FORM, **asdict(self)}, default=str)

    @classmethod
    def from_json(cls, text: str) -> ClipIndex:
        """The index from its own JSON text. Raises ValueError or TypeError where it is something else."""
        raw: dict[str, Any] = json.loads(text)
        if raw.pop("form", None) != _FORM:
            raise ValueError("an index of another form, or none")
        for name in ("pixel_aspect", "rate", "time_base"):
            raw[name] = Fraction(raw[name])
        for name in ("times", "size", "key_frames", "pts", "sums", "damaged"):
            raw[name] = tuple(raw[name])
        return cls(**raw)


def read_index(path: Path) -> ClipIndex:
    """Play the file once and list its pictures. Raises FootageError for what is no whole video."""
    with opened(path) as (container, stream):
        played = play(container, stream, path)
        if not played.shown:
            raise FootageError(f"{path.name} holds no picture that can be decoded", EXPORT_AGAIN)
        _refuse_a_cut_file(container, stream, path, played)
        return _index(container, stream, path, _numbered(container, stream, path, played))


def _numbered(container: InputContainer, stream: VideoStream, path: Path, played: Played) -> Numbered:
    return numbered(played, container.format.name, stream.codec_context.name, path)


def fingerprint(path: Path) -> str:
    """SHA-256 of the whole file, as 64 hexadecimal digits."""
    with path.open("rb") as file:
        return file_digest(file, "sha256").hexdigest()


def _refuse_a_cut_file(container: InputContainer, stream: VideoStream, path: Path, played: Played) -> None:
    """Refuse a file whose own table, count or stated length goes beyond what is there."""
    shown = played.shown
    there = path.stat().st_size
    cut = any(entry.pos + entry.size > there for entry in stream.index_entries)
    stated = _stated_end(container, stream)
    last = max((one.pts for one in played.sent if one.pts is not None), default=shown[-1].pts)
    if stated is not None and last is not None and stream.time_base is not None:
        end = float((last + shown[-1].ticks) * stream.time_base)
        cut = cut or end < stated - max(0.5, 0.05 * stated)
    if cut:
        raise FootageError(
            f"{path.name} is cut short: {len(shown)} pictures are there and more are announced", EXPORT_AGAIN
        )
    if "mov" in container.format.name:
        _refuse_a_false_table(stream, path, len(played.sent))


def _refuse_a_false_table(stream: VideoStream, path: Path, sent: int) -> None:
    """Refuse a file that holds fewer pictures than it counts, and does not itself leave them out.

    An edit list (ISO/IEC 14496-12, 8.6.6) may: then all of them are there without it, and fill the time
    that the file states for them.
    """
    if stream.frames <= sent:
        return
    count, lasting = whole_of(path)
    stated = float(stream.duration * stream.time_base) if stream.duration and stream.time_base else lasting
    if count < stream.frames or abs(lasting - stated) > max(0.5, 0.05 * stated):
        raise FootageError(
            f"{path.name} counts {stream.frames} pictures and shows {sent} of them: its table is damaged",
            EXPORT_AGAIN,
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


def _index(container: InputContainer, stream: VideoStream, path: Path, numbered: Numbered) -> ClipIndex:
    shown = numbered.pictures
    seen = [picture for picture in shown if picture is not None]
    first = seen[0]
    if any(picture.size != first.size for picture in seen):
        raise FootageError(f"{path.name} changes its picture size partway", EXPORT_AGAIN)
    base = stream.time_base or Fraction(1)
    pts = numbered.pts
    rate = _rate(stream, pts, base, path)
    times = _times(pts, base, rate, len(shown))
    rotation, mirrored = from_display_matrix(first.matrix) if first.matrix else (0, False)
    aspect = stream.sample_aspect_ratio or Fraction(1)
    refuse_odd_pixels(aspect, path)
    upright = Upright(rotation, mirrored, aspect)
    for size in (first.size, upright.size(first.size)):
        refuse_odd_size(size, path)
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
        key_frames=tuple(
            number
            for number, picture in enumerate(shown)
            if picture is not None and picture.key and number not in numbered.damaged
        )
        or (0,),
        interlaced=any(picture.interlaced for picture in seen),
        duration=times[-1] + _last_duration(shown, base, rate, bool(pts)),
        start=float(pts[0] * base) if pts else 0.0,
        file_size=path.stat().st_size,
        time_base=base,
        pts=pts,
        sums=tuple(0 if picture is None else picture.check for picture in shown),
        damaged=tuple(sorted(numbered.damaged)),
    )


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


def _last_duration(shown: Sequence[Shown | None], base: Fraction, rate: Fraction, stamped: bool) -> float:
    ticks = shown[-1].ticks if shown[-1] is not None else 0
    return float(ticks * base) if stamped and ticks else float(1 / rate)


def _start_timecode(container: InputContainer, stream: VideoStream) -> str | None:
    """The start timecode from the video stream, the file, or a timecode stream beside it."""
    for metadata in (stream.metadata, container.metadata, *(other.metadata for other in container.streams)):
        if "timecode" in metadata:
            return str(metadata["timecode"])
    return None
