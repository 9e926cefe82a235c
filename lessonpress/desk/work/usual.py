"""The site's usual plates laid out for a clip: a lesson begun with their braces, marks suggested for them.

What is usual the newest lesson says that draws a set of site.yaml, private and unlisted ones left out: its
frames and strips at events, with the sets on them and nothing else, since captions and other lines are of its
own swing. Where no lesson draws a set, all sets are drawn on a strip of the site's usual events.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator, Mapping
from dataclasses import dataclass
from datetime import date
from typing import Any

from lessonpress.desk.http.responses import RequestError
from lessonpress.desk.views.livesite import LiveSite
from lessonpress.desk.work.drafts import films_of
from lessonpress.figures import SurveyedClip, needed_marks
from lessonpress.footage import SUGGESTED, FootageError, can_suggest
from lessonpress.intake import OpenedClip, keep_suggestions, suggested_in, usual_events
from lessonpress.manuscript import (
    Block,
    Lesson,
    Node,
    Scalar,
    Sequence,
    Site,
    block_yaml,
    fenced,
    file_passage,
    read_lesson,
    written,
)
from lessonpress.manuscript import Mapping as MappingNode
from lessonpress.records import Problems, UsageError

KINDS = {"frame": "at", "strip": "frames"}  # of figures that are usual, and the key of their instants
SEQUENCE = "sequence"


@dataclass(frozen=True)
class UsualPlate:
    """A figure with nothing but sets on it. events: in the order of the swing."""

    kind: str
    id: str
    events: tuple[str, ...]
    sets: tuple[str, ...]

    def block(self) -> str:
        instants = self.events[0] if self.kind == "frame" else list(self.events)
        draw = [{"use": name} for name in self.sets]
        return fenced(self.kind, block_yaml({"id": self.id, KINDS[self.kind]: instants, "draw": draw}))


def usual_plates(site: Site, events: Mapping[str, int]) -> tuple[UsualPlate, ...]:
    """Those that the clip's events allow, in their order. events: of the clip, their frames."""
    for lesson in (one for one in reversed(site.lessons) if one.front.listed and not one.private):
        plates = [plate for block in lesson.blocks if (plate := _plate(block, site)) is not None]
        if plates:
            return tuple(_at_hand(plates, events))
    if not site.sets:
        return ()
    named = [event for event in usual_events(site) if event in events]
    kind, name = ("strip", SEQUENCE) if len(named) > 1 else ("frame", "".join(named))
    return tuple(_at_hand([UsualPlate(kind, name, tuple(named), tuple(site.sets))], events))


def _at_hand(plates: Iterable[UsualPlate], events: Mapping[str, int]) -> Iterator[UsualPlate]:
    for plate in plates:
        there = tuple(sorted((one for one in plate.events if one in events), key=lambda one: events[one]))
        if there and (len(there) == len(plate.events) or (plate.kind == "strip" and len(there) > 1)):
            yield UsualPlate(plate.kind, plate.id, there, plate.sets)


def _plate(block: Block, site: Site) -> UsualPlate | None:
    """A frame or strip at events that draws sets; None for any other block."""
    node = block.node
    key = KINDS.get(block.kind)
    if node is None or key is None:
        return None
    instants = [one.written for one in _scalars(node.get(key))]
    draw = node.get("draw")
    entries = draw.items if isinstance(draw, Sequence) else ()
    sets = [name for entry in entries if (name := _set_of(entry)) in site.sets]
    known = {event for clip in site.clips.values() if clip.card for event in clip.card.events}
    given = node.get("id")
    name = given.written if isinstance(given, Scalar) else "-".join(instants)
    if not sets or not instants or not set(instants) <= known:
        return None
    return UsualPlate(block.kind, name, tuple(instants), tuple(sets))


def _set_of(entry: Node) -> str:
    name = entry.get("use") if isinstance(entry, MappingNode) else None
    return name.written if isinstance(name, Scalar) else ""


def _scalars(node: Node | None) -> list[Scalar]:
    items = node.items if isinstance(node, Sequence) else [node]
    return [one for one in items if isinstance(one, Scalar)]


def lesson_of(site: Site, title: str, clip: str, on: date, plates: Iterable[UsualPlate]) -> str:
    """The text of the lesson: before each plate a line with the braces of its numbers. It is a draft, since
    no one has written it yet.
    """
    front = f"---\ntitle: {written(title)}\ndate: {on.isoformat()}\nclip: {written(clip)}\ndraft: true\n---\n"
    parts = [front]
    for plate in plates:
        parts += [*_sentences(site, plate), plate.block()]
    return "\n".join(parts)


def _sentences(site: Site, plate: UsualPlate) -> Iterator[str]:
    for name, events in _numbers(site, plate):
        single = plate.kind == "frame"
        braces = [
            f"{{{name}}} at {event}" if single else f"{{{name}.{event}}} at {event}" for event in events
        ]
        words = name.replace("-", " ")
        yield f"{words[0].upper()}{words[1:]}: {', '.join(braces)}.\n"


def _numbers(site: Site, plate: UsualPlate) -> Iterator[tuple[str, tuple[str, ...]]]:
    """The ids that the plate's overlays give to numbers, and the events of each."""
    for overlay in _overlays(site, plate.sets, ()):
        given = overlay.get("as")
        only = [one.written for one in _scalars(overlay.get("only"))]
        events = tuple(event for event in plate.events if not only or event in only)
        if isinstance(given, Scalar) and events:
            yield given.written, events


def _overlays(site: Site, sets: Iterable[str], inside: tuple[str, ...]) -> Iterator[MappingNode]:
    for name in sets:
        for entry in site.sets.get(name, ()) if name not in inside else ():
            other = _set_of(entry)
            if other:
                yield from _overlays(site, [other], (*inside, name))
            else:
                yield entry


@dataclass(frozen=True)
class LaidOut:
    """text: of the lesson. suggested: how many marks. missing: marks on frames that still have to be placed,
    neither suggested nor there.
    """

    text: str
    suggested: int
    missing: tuple[tuple[str, int], ...]


def lay_out(live: LiveSite, clip: str, title: str, on: date) -> LaidOut:
    """The text of a lesson with the usual plates of `clip`; marks for it are suggested and kept as questions.

    Raises RequestError where there is nothing usual, or no event for it.
    """
    site, filmed = live.site(), live.filmed(live.clip(clip), Problems())
    if not site.sets:
        raise RequestError(422, "site.yaml has no `sets`", "write there what you always draw")
    plates = usual_plates(site, filmed.events)
    if not plates:
        raise RequestError(422, f"{clip} has no event of the usual plates", "take the events as proposed")
    text = lesson_of(site, title, clip, on, plates)
    lesson = read_lesson("usual", file_passage("lessons/usual.md", text), Problems())
    assert lesson is not None
    wanted = _wanted(live, site, lesson)
    found = _suggested(live, filmed, wanted)
    missing = tuple(one for one in wanted if one not in found)
    return LaidOut(text, len(found), missing)


def _wanted(live: LiveSite, site: Site, lesson: Lesson) -> tuple[tuple[str, int], ...]:
    """(mark, frame) of all that its figures need and the clip does not have."""
    films = films_of(live, site, lesson, Problems())
    asked = needed_marks(lesson, site, films, Problems())
    gaps = [
        (one.mark, one.frame)
        for one in asked
        if (filmed := films.get(one.clip)) is not None and not filmed.sees(one.mark, one.frame)
    ]
    return tuple(dict.fromkeys(gaps))


def _suggested(
    live: LiveSite, filmed: SurveyedClip, wanted: Collection[tuple[str, int]]
) -> set[tuple[str, int]]:
    """Which of the marks wanted were suggested; none where the site forbids it or the extra is missing."""
    marks = [mark for mark in SUGGESTED if any(mark == one for one, _ in wanted)]
    frames = sorted({frame for mark, frame in wanted if mark in marks})
    if not live.site().suggested or not can_suggest() or not frames:
        return set()
    opened = OpenedClip(filmed.clip, filmed.index, dict(filmed.events))
    try:
        made = list(suggested_in(opened, frames, marks))
        with live.saving:
            keep_suggestions(live.root, opened, marks, made)
    except UsageError as error:
        raise RequestError(422, str(error)) from error
    except FootageError as error:
        raise RequestError(422, error.reason, error.way_out) from error
    return {(row.mark, row.frame) for one in made for row in one.rows} & set(wanted)


def laid_out_json(made: LaidOut) -> dict[str, Any]:
    return {"suggested": made.suggested, "missing": [{"mark": one, "frame": at} for one, at in made.missing]}
