"""Opens one clip of a site by itself: its card, its marks, its footage."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

from lessonpress.figures import events_of, frame_of_instant
from lessonpress.footage import ClipIndex, FootageError, read_index
from lessonpress.manuscript import Clip, InvalidValueError, parse_instant, read_site
from lessonpress.records import Location, Problems, UsageError, nearest


@dataclass(frozen=True)
class OpenedClip:
    """events: by name, their frames."""

    clip: Clip
    index: ClipIndex
    events: dict[str, int]


def clip_named(root: Path, name: str) -> tuple[Clip | None, Problems]:
    """The clip of this name, and the problems of its own files. Raises UsageError where there is none.

    None, and all the problems, where the site itself cannot be read.
    """
    site, problems_of_site = read_site(root)
    problems = Problems(
        [one for one in problems_of_site.collected if one.location.path.startswith(f"clips/{name}/")]
    )
    if site is None:
        return None, problems_of_site
    if name not in site.clips:
        close = nearest(name, site.clips)
        hint = f"close to it: {', '.join(close)}" if close else f"there are: {', '.join(sorted(site.clips))}"
        raise UsageError(f"there is no clip called {name}; {hint}")
    return site.clips[name], problems


def open_clip(root: Path, name: str) -> tuple[OpenedClip | None, Problems]:
    """The clip opened, None where its files hold mistakes. Raises UsageError where there is no such clip."""
    clip, problems = clip_named(root, name)
    if clip is None or clip.card is None or clip.video is None or problems.errors:
        return None, problems
    try:
        index = read_index(clip.video)
    except FootageError as fault:
        problems.error(clip.card.location_of("video"), fault.reason, fault.way_out)
        return None, problems
    return OpenedClip(clip, index, events_of(clip, clip.card, index, problems)), problems


def instant_frame(opened: OpenedClip, text: str) -> int:
    """The frame an instant given on the command line means. Raises UsageError where it means none."""
    problems = Problems()
    try:
        asked = parse_instant(text, None)
    except InvalidValueError as wrong:
        raise UsageError(f"{wrong.wrong}; {wrong.right}" if wrong.right else wrong.wrong) from None
    frame = frame_of_instant(asked, opened.events, opened.index, Location(""), problems, opened.clip)
    if frame is None and not problems.errors:
        raise UsageError(
            f"the event `{asked.event}` has a mistake on the card; `lessonpress press` says which"
        )
    if frame is None:
        first = problems.errors[0]
        raise UsageError(f"{first.wrong}; {first.right}")
    return frame
