"""Instants as an author writes them: `impact - 2`, `96`, `1.60 s`, `00:00:01:18`."""

from __future__ import annotations

import re

from lessonpress.manuscript.fields.invalid_value import InvalidValueError
from lessonpress.records import Instant, Location, Timecode

EVENT = re.compile(r"[a-z][a-z0-9-]*")
WAYS = "write an event (`top`), a frame (`96`), a time (`1.60 s`) or a timecode (`00:00:01:18`)"
LATEST_FRAME = 10_000_000  # eleven hours at 240 pictures a second
SETUP = ("address", "adress")  # what else the trade calls the setup

_PLUS = re.compile(r"(?P<start>.*?)\s+(?P<sign>[-+−])\s*(?P<frames>[0-9]{1,9})")
_SECONDS = re.compile(r"(?P<seconds>[0-9]{1,9}(\.[0-9]{1,9})?|\.[0-9]{1,9})\s*s")
_TIMECODE = re.compile(r"([0-9]{1,2}):([0-9]{2}):([0-9]{2})([:;])([0-9]{2,3})")


def parse_instant(text: str, location: Location | None = None) -> Instant:
    """The instant that a text names. Raises InvalidValueError where it names none."""
    text = " ".join(text.split())
    moved = _PLUS.fullmatch(text)
    start, plus = text, 0
    if moved:
        start = moved["start"]
        plus = int(moved["frames"]) * (1 if moved["sign"] == "+" else -1)
    return _start(text, start, plus, location)


def _start(text: str, start: str, plus: int, location: Location | None) -> Instant:
    if re.fullmatch(r"[0-9]{1,8}", start) and int(start) <= LATEST_FRAME:
        return Instant(text, frame=int(start), plus=plus, location=location)
    if seconds := _SECONDS.fullmatch(start):
        return Instant(text, seconds=float(seconds["seconds"]), plus=plus, location=location)
    if _TIMECODE.fullmatch(start):
        return Instant(text, timecode=timecode(start), plus=plus, location=location)
    if start in SETUP:
        raise InvalidValueError(
            f"`{start}` is called setup here", f"write `{text.replace(start, 'setup', 1)}`", ("setup",)
        )
    if EVENT.fullmatch(start):
        return Instant(text, event=start, plus=plus, location=location)
    raise _no_instant(start)


def timecode(text: str) -> Timecode:
    """`HH:MM:SS:FF`, or with `;` for drop-frame. Raises InvalidValueError where it is no time."""
    written = _TIMECODE.fullmatch(text)
    if written is None:
        raise InvalidValueError(
            f"`{text}` is not a timecode", "write hours:minutes:seconds:frames, `00:00:01:18`"
        )
    hours, minutes, seconds, frames = (int(written[part]) for part in (1, 2, 3, 5))
    if hours > 23 or minutes > 59 or seconds > 59:
        raise InvalidValueError(f"`{text}` is not a timecode", "hours end at 23, minutes and seconds at 59")
    return Timecode(hours, minutes, seconds, frames, written[4] == ";")


def _no_instant(text: str) -> InvalidValueError:
    if text.startswith(("-", "−")):
        return InvalidValueError(f"`{text}` lies before the first picture", "frames are counted from 0")
    if re.fullmatch(r"[0-9]+", text):
        return InvalidValueError(f"`{text}` lies past any clip", f"frames end at {LATEST_FRAME}")
    if re.fullmatch(r"[0-9]*\.[0-9]+", text):
        return InvalidValueError(f"`{text}` is not a frame", f"frames are whole; for a time write `{text} s`")
    if re.fullmatch(r"[0-9.]+\s*ms", text):
        return InvalidValueError(f"`{text}` is not an instant", "write the time in seconds, `1.60 s`")
    if re.fullmatch(r"[0-9:;.]+", text):
        return InvalidValueError(
            f"`{text}` is not a timecode", "write hours:minutes:seconds:frames, `00:00:01:18`"
        )
    if EVENT.fullmatch(text.lower()):
        return InvalidValueError(f"`{text}` is not an event's name", "small letters only", (text.lower(),))
    return InvalidValueError(f"`{text}` is not an instant", WAYS)
