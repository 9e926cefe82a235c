"""A lesson's plates, each as the pair that shows its swing first and another clip's second.

Only what holds for any swing is taken along: overlays with what they measure and expect. Captions, labels and
notes are words about the lesson's own swing. An instant is taken along where it is an event, since a frame, a
time or a count of frames means another moment in another file.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import Any

from lessonpress.figures import Planned, PlannedOverlay, PlannedPanel, SurveyedClip
from lessonpress.manuscript import Card, block_yaml, fenced, plain_name
from lessonpress.overlays import measures
from lessonpress.records import Location, Problems, positive_right

KINDS = ("frame", "strip")
_INSTANTS = ("placed", "since", "from", "to")
_OF_ITS_OWN_SWING = ("label", "only")
_NOTE = "note"
_EVENT_RIGHT = "write it as an event, on the cards of both clips"


@dataclass(frozen=True)
class Pairing:
    """One picture of the lesson and what becomes of it.

    plate: the id of the lesson's figure. location: of that figure. event: the instant of both pictures.
    events: all that the overlays look to, `event` among them. mirrored: of the first and of the second
    picture. overlays: as written in the pair. measured: the ids of its measures, without `.first`. marks: all
    that its overlays name.
    """

    id: str
    plate: str
    location: Location
    clip: str
    event: str
    events: tuple[str, ...]
    mirrored: tuple[bool, bool]
    overlays: tuple[Mapping[str, Any], ...]
    measured: tuple[str, ...]
    marks: tuple[str, ...]

    def pair(self, other: str) -> str:
        """The block that shows both clips."""
        sides = [
            {"clip": clip, **({"mirrored": True} if mirrored else {})}
            for clip, mirrored in zip((self.clip, other), self.mirrored, strict=True)
        ]
        fields = {"id": self.id, "at": self.event, "of": sides, "draw": list(self.overlays)}
        return fenced("pair", block_yaml(fields))

    def frame(self, clip: str) -> str:
        """The block that shows one clip alone, to find out what it needs."""
        fields = {"id": self.id, "clip": clip, "at": self.event, "draw": list(self.overlays)}
        return fenced("frame", block_yaml(fields))


def pairings_of(planned: Iterable[Planned], other: SurveyedClip, problems: Problems) -> tuple[Pairing, ...]:
    """The pairings of a lesson's figures with `other`; what is left out is warned of where it is written."""
    taken: set[str] = set()
    made = []
    for figure in planned:
        if figure.kind not in KINDS:
            problems.warn(
                figure.block.location,
                f"a {figure.kind} is not held against another clip",
                "draw its overlays in a frame or a strip, if they should be",
            )
            continue
        for at in figure.panels:
            one = _pairing(figure, at, other, taken, problems)
            if one is not None:
                made.append(one)
    return tuple(made)


def _pairing(
    figure: Planned, at: PlannedPanel, other: SurveyedClip, taken: set[str], problems: Problems
) -> Pairing | None:
    location = figure.block.location
    event = _event_of(at.frame, at.filmed)
    why = _unlike(at.filmed, other)
    if why is not None:
        problems.warn(location, why[0], why[1], cause=why[0])
        return None
    if event is None:
        wrong = (
            f"`{at.instant.text}` of this {figure.kind} is no event, and means another moment in another clip"
        )
        problems.warn(location, wrong, _EVENT_RIGHT)
        return None
    kept, left = [], 0
    events = {event: None}
    for overlay in at.overlays:
        if not overlay.drawn_on(at.frame) or overlay.kind.KIND == _NOTE:
            continue
        looked_to = _events_of(overlay, at.filmed, problems)
        if looked_to is None:
            left += 1
            continue
        events |= dict.fromkeys(looked_to.values())
        kept.append((overlay, looked_to))
    if not kept and left:
        return None
    name = figure.id if figure.kind == "frame" else f"{figure.id}-{plain_name(event)}"
    pair = _free(name, taken)
    overlays, measured = [], []
    for overlay, looked_to in kept:
        entry = _entry(overlay, looked_to)
        if measures(overlay.kind):
            entry["as"] = _free(_id_of(overlay, figure, event), taken)
            measured.append(entry["as"])
        overlays.append(entry)
    return Pairing(
        id=pair,
        plate=figure.id,
        location=location,
        clip=at.filmed.name,
        event=event,
        events=tuple(events),
        mirrored=(at.mirrored, at.mirrored != _turned(at.filmed.card, other.card)),
        overlays=tuple(overlays),
        measured=tuple(measured),
        marks=tuple(dict.fromkeys(mark for overlay, _ in kept for mark in _marks_of(overlay))),
    )


def _unlike(filmed: SurveyedClip, other: SurveyedClip) -> tuple[str, str] | None:
    """Why two clips cannot be held against each other, and what could; None where they can."""
    if filmed.name == other.name:
        return f"this shows {other.name} itself", "choose another clip"
    if filmed.card.view != other.card.view:
        wrong = f"{filmed.name} is filmed {filmed.card.view} and {other.name} {other.card.view}"
        return wrong, "film both from one side: from another, the same measure is of another plane"
    return None


def _turned(one: Card, other: Card) -> bool:
    """Whether one of two pictures has to be turned about for both swings to face the same way."""
    sides = [positive_right(card.view, card.hand, card.target) for card in (one, other)]
    return sides[0] != sides[1]


def _event_of(frame: int, filmed: SurveyedClip) -> str | None:
    return next((name for name, at in filmed.events.items() if at == frame), None)


def _events_of(overlay: PlannedOverlay, filmed: SurveyedClip, problems: Problems) -> dict[str, str] | None:
    """The events of an overlay's instants by their text; None, with a warning, where one is none."""
    found: dict[str, str] = {}
    for text, frame in overlay.instants.items():
        event = _event_of(frame, filmed)
        if event is None:
            wrong = f"`{text}` of this overlay is no event, and means another moment in another clip"
            problems.warn(overlay.location, wrong, _EVENT_RIGHT)
            return None
        found[text] = event
    return found


def _entry(overlay: PlannedOverlay, events: Mapping[str, str]) -> dict[str, Any]:
    """The overlay as it is written in the pair."""
    node = overlay.fields.node
    assert node is not None
    return {
        key: events.get(str(value), value) if key in _INSTANTS else value
        for key, value in node.plain.items()
        if key not in _OF_ITS_OWN_SWING
    }


def _marks_of(overlay: PlannedOverlay) -> list[str]:
    return [mark for _, mark in overlay.fields.mark_places()]


def _id_of(overlay: PlannedOverlay, figure: Planned, event: str) -> str:
    named = overlay.fields.measure_id or f"{figure.id}-{overlay.kind.KIND}"
    return named if figure.kind == "frame" else f"{named}-{plain_name(event)}"


def _free(name: str, taken: set[str]) -> str:
    """The name, or the first with a number that is free; it is taken then."""
    number, free = 1, name
    while free in taken:
        number += 1
        free = f"{name}-{number}"
    taken.add(free)
    return free
