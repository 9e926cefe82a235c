"""SMPTE ST 12-1 timecodes and the frames they name.

Labels count frames at the nearest whole rate. Drop-frame at 30000/1001 leaves out labels 00 and 01 of every
minute save each tenth (00 to 03 at 60000/1001), so that labels keep pace with the clock to 3.6 ms in an hour;
no picture is left out.
"""

from __future__ import annotations

import re
from fractions import Fraction

from lessonpress.footage.video.failure import FootageError
from lessonpress.footage.video.index import ClipIndex
from lessonpress.records import Timecode

WRITTEN = re.compile(r"(\d{1,2}):(\d{2}):(\d{2})([:;.,])(\d{2,3})")


def frame_number(timecode: Timecode, rate: Fraction) -> int:
    """Frames from 00:00:00:00 to `timecode` at `rate` frames a second. Raises FootageError for no label."""
    base, dropped = _counting(rate, timecode.drop)
    minutes = timecode.hours * 60 + timecode.minutes
    if timecode.minutes > 59 or timecode.seconds > 59 or timecode.frames >= base:
        raise FootageError(
            f"{text_of(timecode)} is not a timecode at {base} frames a second",
            f"write minutes and seconds below 60 and frames below {base}",
        )
    if timecode.drop and timecode.minutes % 10 and not timecode.seconds and timecode.frames < dropped:
        right = Timecode(timecode.hours, timecode.minutes, 0, dropped, True)
        raise FootageError(f"drop-frame leaves out {text_of(timecode)}", f"write {text_of(right)}")
    left_out = dropped * (minutes - minutes // 10)
    return (minutes * 60 + timecode.seconds) * base + timecode.frames - left_out


def timecode_of(frame: int, rate: Fraction, drop: bool = False) -> Timecode:
    """The label of the frame that is `frame` frames after 00:00:00:00."""
    base, dropped = _counting(rate, drop)
    per_minute, per_ten = base * 60 - dropped, base * 600 - 9 * dropped
    tens, rest = divmod(frame, per_ten)
    if dropped and rest >= base * 60:
        rest += dropped * (1 + (rest - base * 60) // per_minute)
    seconds, frames = divmod(tens * base * 600 + rest, base)
    return Timecode(seconds // 3600, seconds // 60 % 60, seconds % 60, frames, drop)


def from_text(text: str) -> Timecode | None:
    """A written timecode; a semicolon, or in some files a point or comma, marks drop-frame."""
    written = WRITTEN.fullmatch(text.strip())
    if written is None:
        return None
    hours, minutes, seconds, mark, frames = written.groups()
    return Timecode(int(hours), int(minutes), int(seconds), int(frames), mark != ":")


def text_of(timecode: Timecode) -> str:
    mark = ";" if timecode.drop else ":"
    return f"{timecode.hours:02d}:{timecode.minutes:02d}:{timecode.seconds:02d}{mark}{timecode.frames:02d}"


def frame_of(timecode: Timecode, index: ClipIndex) -> int | None:
    """The clip's frame on screen at a timecode, from the file's own start code, else from zero.

    None where the clip does not reach it. Raises FootageError for a label that does not exist.
    """
    start = from_text(index.start_timecode or "")
    begun = frame_number(start, index.rate) if start else 0
    return index.frame_at(float((frame_number(timecode, index.rate) - begun) / index.rate))


def _counting(rate: Fraction, drop: bool) -> tuple[int, int]:
    """(labels in a second, labels left out at the head of nine minutes in ten)."""
    base = round(rate)
    if not drop:
        return base, 0
    if base % 30 or rate == base:
        raise FootageError(
            f"drop-frame timecode does not exist at {float(rate):.6g} frames a second",
            "write a colon before the frames",
        )
    return base, base // 15
