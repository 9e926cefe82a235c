"""Which frame of a clip an instant means."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from lessonpress.footage import ClipIndex, FootageError, frame_number
from lessonpress.manuscript import Clip, InvalidValueError, parse_instant
from lessonpress.records import Instant, Location, Problems, Timecode, nearest

DAMAGED = "choose another frame, or copy the video from the camera again"


def frame_of_instant(
    instant: Instant,
    events: Mapping[str, int],
    index: ClipIndex,
    location: Location,
    problems: Problems,
    clip: Clip,
) -> int | None:
    """The frame, from 0 in presentation order; None once it is reported at `location` why there is none.

    An event that is written on the card and has no frame has its own mistake reported there.
    """
    start = _start(instant, events, index, location, problems, clip)
    if start is None:
        return None
    frame = start + instant.plus
    if index.is_damaged(frame):
        wrong = f"`{instant.text}` is frame {frame}, and that picture of the clip {clip.name} is damaged"
        problems.error(location, wrong, DAMAGED)
        return None
    if 0 <= frame < len(index):
        return frame
    last = len(index) - 1
    problems.error(
        location,
        f"`{instant.text}` is frame {frame}, and the clip {clip.name} has frames 0 to {last}",
        "choose an instant within the clip",
    )
    return None


def _start(
    instant: Instant,
    events: Mapping[str, int],
    index: ClipIndex,
    location: Location,
    problems: Problems,
    clip: Clip,
) -> int | None:
    if instant.event is not None:
        return _of_event(instant.event, events, location, problems, clip)
    if instant.frame is not None:
        return instant.frame
    if instant.seconds is not None:
        return _of_time(instant, instant.seconds, index, location, problems, clip)
    assert instant.timecode is not None
    return _of_timecode(instant, instant.timecode, index, location, problems)


def _of_event(
    event: str, events: Mapping[str, int], location: Location, problems: Problems, clip: Clip
) -> int | None:
    if event not in events:
        check_event(event, clip, location, problems, known=events)
    return events.get(event)


def check_event(event: str, clip: Clip, location: Location, problems: Problems, known: Iterable[str]) -> None:
    """Report an event that the clip's card does not write. known: those it has."""
    if clip.writes_event(event):
        return
    names = list(known)
    known_events = f"its events are {', '.join(names)}" if names else "its card names no events"
    problems.error(
        location,
        f"the clip {clip.name} has no event `{event}`",
        f"{known_events}; add the event on the card",
        nearest=nearest(event, names),
        cause=f"no event {event} on {clip.name}",
    )


def _of_time(
    instant: Instant, seconds: float, index: ClipIndex, location: Location, problems: Problems, clip: Clip
) -> int | None:
    frame = index.frame_at(seconds)
    if frame is None:
        problems.error(
            location,
            f"`{instant.text}` is past the end of the clip {clip.name}, which lasts {index.duration:.2f} s",
            "times are those of the file",
        )
    return frame


def _of_timecode(
    instant: Instant, code: Timecode, index: ClipIndex, location: Location, problems: Problems
) -> int | None:
    """Counted from the file's own start code, else from zero."""
    try:
        first = 0
        if index.start_timecode is not None:
            begun = parse_instant(index.start_timecode, None).timecode
            first = frame_number(begun, index.rate) if begun is not None else 0
        return frame_number(code, index.rate) - first
    except FootageError as fault:
        problems.error(location, fault.reason, fault.way_out)
    except InvalidValueError:
        wrong = f"the start code of this clip's video, {index.start_timecode}, is not a timecode"
        problems.error(location, wrong, "write a frame or a time instead")
    return None
