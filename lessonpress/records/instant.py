"""A way to say which picture of a clip is meant: an event, a frame number, a time or a timecode."""

from __future__ import annotations

from dataclasses import dataclass, field

from lessonpress.records.problem import Location


@dataclass(frozen=True)
class Timecode:
    """SMPTE ST 12-1 hours:minutes:seconds:frames; `drop` where a semicolon comes before the frames."""

    hours: int
    minutes: int
    seconds: int
    frames: int
    drop: bool = False


@dataclass(frozen=True)
class Instant:
    """Exactly one of event, frame, seconds, timecode is set; `plus` frames are added to it.

    frame counts from 0 in presentation order; seconds are those of the file.
    """

    text: str
    event: str | None = None
    frame: int | None = None
    seconds: float | None = None
    timecode: Timecode | None = None
    plus: int = 0
    location: Location | None = field(default=None, compare=False)
