"""The events proposed for a clip: those that the site names, each with a ± of pictures.

A name is that of a moment, or means one by `events` of site.yaml. For a name of the site's own, such as
`release`, its other clips say where it lies between two moments, and the proposal lies there in this one.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import pairwise
from pathlib import Path
from statistics import median

import numpy as np
from numpy.typing import NDArray

from lessonpress.footage import Film, Found, Moment, film_moments, real_times
from lessonpress.intake.clip import OpenedClip, open_clip
from lessonpress.manuscript import Clip, Site, read_site
from lessonpress.records import MOMENTS

Floats = NDArray[np.float64]

FIRST = ("setup", "top", "impact", "finish")  # usual where no card names any
USUAL = 0.5  # of the cards with events, from which on a name is usual
LOOKED_AT = 3  # clips that say where a name of the site's own lies
ALONE = 0.1  # of the time between two moments: the ± where one clip alone says so


@dataclass(frozen=True)
class OtherClip:
    """A clip whose events are named. seconds: real ones of each picture."""

    events: Mapping[str, int]
    seconds: Sequence[float]


def events_proposed(root: Path, opened: OpenedClip) -> Found:
    """The events proposed for an opened clip, none for those its card names. Raises FootageError."""
    site, _ = read_site(root)
    clip = opened.clip
    assert site is not None and clip.card is not None and clip.video is not None
    seconds = np.array(real_times(opened.index.times, clip.card.filmed_at))
    film = Film(
        clip.video, opened.index, seconds, clip.card.view, clip.card.camera.still, clip.card.deinterlace
    )
    others = []
    for other in clips_that_name(site, own_names(site, usual_events(site, clip.name)), clip.name):
        read, _ = open_clip(root, other.name)
        if read is not None and read.clip.card is not None:
            pace = real_times(read.index.times, read.clip.card.filmed_at)
            others.append(OtherClip(read.events, pace))
    found = named_events(film_moments(film, film.changes()), film.seconds.tolist(), site, clip.name, others)
    new = {event: at for event, at in found.moments.items() if event not in opened.events}
    return Found(new, found.why)


def usual_events(site: Site, name: str = "") -> tuple[str, ...]:
    """The events that the site's cards name, the clip `name` left out, and those of site.yaml.

    In no order: a swing puts them in its own.
    """
    cards = [clip.card for clip in site.clips.values() if clip.card and clip.name != name]
    named = [card.events for card in cards if card.events]
    counted = Counter(event for events in named for event in events)
    usual = [event for event, times in counted.items() if times >= USUAL * len(named)]
    return tuple(dict.fromkeys([*site.events, *usual])) or FIRST


def own_names(site: Site, names: Iterable[str]) -> tuple[str, ...]:
    """Those that no moment is called."""
    return tuple(name for name in names if moment_of(site, name) is None)


def moment_of(site: Site, name: str) -> str | None:
    named = site.events.get(name, name)
    return named if named in MOMENTS else None


def clips_that_name(site: Site, names: Iterable[str], name: str) -> list[Clip]:
    """The last clips, the clip `name` left out, whose cards have one of these events."""
    wanted = set(names)
    clips = [
        clip
        for clip in site.clips.values()
        if clip.name != name and clip.card and wanted & clip.card.events.keys() and not clip.faults
    ]
    clips.sort(key=lambda clip: str(clip.card.filmed_on or "") if clip.card else "")
    return clips[-LOOKED_AT:]


def named_events(
    found: Found, seconds: Sequence[float], site: Site, name: str, others: Iterable[OtherClip]
) -> Found:
    """The usual events of the site where the moments of the clip `name` were found, ascending. seconds: real
    ones of its pictures.
    """
    pace = np.asarray(seconds)
    names = usual_events(site, name)
    events = {
        event: found.moments[moment]
        for event in names
        if (moment := moment_of(site, event)) is not None and moment in found.moments
    }
    others = list(others)
    for event in own_names(site, names):
        if (lies := _analogous(event, found.moments, pace, site, others)) is not None:
            events[event] = lies
    return Found(dict(sorted(events.items(), key=lambda one: one[1].frame)), found.why)


def _analogous(
    event: str, moments: Mapping[str, Moment], pace: Floats, site: Site, others: Iterable[OtherClip]
) -> Moment | None:
    """Where the event lies between two moments, as in the other clips; None where none says."""
    shares: dict[tuple[str, str], list[float]] = {}
    for other in others:
        for between, share in _shares(event, moments, site, other):
            shares.setdefault(between, []).append(share)
    if not shares:
        return None
    (first, last), told = max(shares.items(), key=lambda one: len(one[1]))
    begins, ends = moments[first], moments[last]
    early, late = pace[begins.frame], pace[ends.frame]
    at = early + median(told) * (late - early)
    spread = max(told) - min(told) if len(told) > 1 else ALONE
    frame = int(np.abs(pace - at).argmin())
    around = np.abs(pace - at) <= spread * (late - early)
    within = int(np.count_nonzero(around) / 2) + max(begins.within, ends.within)
    return Moment(frame, max(1, within))


def _shares(
    event: str, moments: Mapping[str, Moment], site: Site, other: OtherClip
) -> Iterator[tuple[tuple[str, str], float]]:
    """Between which two moments found in both films it lies in the other, and at which part of the time."""
    if event not in other.events:
        return
    known = {moment_of(site, name): frame for name, frame in other.events.items()}
    order = sorted((known[name], name) for name in moments if name in known)
    at = other.seconds[other.events[event]]
    for (early, first), (late, last) in pairwise(order):
        begins, ends = other.seconds[early], other.seconds[late]
        if begins <= at <= ends and ends > begins:
            yield (first, last), (at - begins) / (ends - begins)
            return
