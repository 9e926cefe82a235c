"""The first reading of a figure block: its fields, its clip, its frames and its overlays, all checked.

Nothing is drawn or measured yet, since the crop of one figure rests on the frames of all figures of a lesson.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from lessonpress.figures.expected import Expected, expected_of
from lessonpress.figures.fields import FIGURES, FigureFields
from lessonpress.figures.filming import Filmed
from lessonpress.figures.instants import resolve
from lessonpress.manuscript.lesson import Block, Lesson
from lessonpress.manuscript.site import Site
from lessonpress.manuscript.written import read
from lessonpress.overlays import Facts, OverlayFields, OverlayKind, check_overlay, expand, read_overlay
from lessonpress.records.instant import Instant
from lessonpress.records.problem import Place, Problems, nearest


@dataclass(frozen=True)
class PlannedOverlay:
    """instants: the frames of what it looks back to or stands at, by the instant's text."""

    kind: OverlayKind
    fields: OverlayFields
    instants: Mapping[str, int]
    expected: Expected | None
    only: frozenset[int] | None

    @property
    def place(self) -> Place:
        return self.fields.key_place(self.kind.KIND)

    def place_of_mark(self, mark: str) -> Place:
        """Where the overlay names a mark; where it begins for one that it takes without naming it."""
        return next(
            (self.fields.place_of(*loc) for loc, named in self.fields.mark_places() if named == mark),
            self.place,
        )

    def drawn_on(self, frame: int) -> bool:
        return self.only is None or frame in self.only


@dataclass(frozen=True)
class PlannedPanel:
    filmed: Filmed
    frame: int
    instant: Instant


@dataclass(frozen=True)
class Planned:
    """One figure that can be bound. number: its place among the lesson's figures, from 1."""

    kind: str
    id: str
    number: int
    block: Block
    fields: FigureFields
    panels: tuple[PlannedPanel, ...]
    overlays: tuple[PlannedOverlay, ...]


def plan(
    lesson: Lesson, site: Site, films: Mapping[str, Filmed | None], problems: Problems
) -> tuple[Planned, ...]:
    """The lesson's figures in the order written. films: by clip; None for one whose mistakes are told."""
    planned: list[Planned] = []
    taken: dict[str, Place] = {}
    number = 0
    for block in lesson.blocks:
        if block.kind not in FIGURES:
            continue
        number += 1
        fields = read(FIGURES[block.kind], block.node, problems)
        if fields is None:
            continue
        if fields.id is not None:
            taken.setdefault(fields.id, fields.place_of("id"))  # two figures of one id are told by manuscript
        filmed = _filmed(fields, block, lesson, films, problems)
        if filmed is not None:
            planned.append(_planned(block, fields, number, filmed, site, taken, problems))
    return tuple(planned)


def _claim(name: str, place: Place, taken: dict[str, Place], problems: Problems) -> None:
    """One namespace a lesson: figures and measures."""
    if name in taken:
        problems.error(place, f"the id `{name}` is taken at line {taken[name].line}", "give each its own id")
        return
    taken[name] = place


def _filmed(
    fields: FigureFields, block: Block, lesson: Lesson, films: Mapping[str, Filmed | None], problems: Problems
) -> Filmed | None:
    name = fields.clip or lesson.clip
    place = fields.place_of("clip") if fields.clip else block.place
    if name is None:
        problems.error(
            place, "this figure names no clip", "write `clip: NAME` here or in the lesson's front matter"
        )
        return None
    if name not in films:
        # an unknown clip in the front matter is told there, once
        if fields.clip:
            problems.error(
                place,
                f"there is no clip `{name}`",
                "clips are folders of clips/",
                nearest=nearest(name, films),
            )
        return None
    return films[name]


def _planned(
    block: Block,
    fields: FigureFields,
    number: int,
    filmed: Filmed,
    site: Site,
    taken: dict[str, Place],
    problems: Problems,
) -> Planned:
    panels = []
    for loc, instant in fields.instants:
        frame = resolve(instant, filmed.events, filmed.index, fields.place_of(*loc), problems, filmed.name)
        if frame is not None:
            panels.append(PlannedPanel(filmed, frame, instant))
    overlays = []
    for node in expand(fields.draw, site.sets, problems):
        overlay = read_overlay(node, problems)
        if overlay is not None:
            kind, given = overlay
            if given.measure_id is not None:
                _claim(given.measure_id, given.place_of("as"), taken, problems)
            made = _overlay(kind, given, filmed, site, problems)
            if made is not None:
                overlays.append(made)
    return Planned(
        kind=block.kind,
        id=fields.id or f"plate-{number}",
        number=number,
        block=block,
        fields=fields,
        panels=tuple(panels),
        overlays=tuple(overlays),
    )


def _overlay(
    kind: OverlayKind, fields: OverlayFields, filmed: Filmed, site: Site, problems: Problems
) -> PlannedOverlay | None:
    check_overlay(kind, fields, Facts(filmed.name, filmed.mark_names), problems)
    if any(mark not in filmed.mark_names for mark in fields.marks):
        _tell_unplaced(kind, fields, filmed, problems)
        return None
    instants: dict[str, int] = {}
    for key, instant in _looks_back(fields):
        place = (
            fields.place_of(key) if fields.node and key in fields.node.keys else fields.key_place(kind.KIND)
        )
        frame = resolve(instant, filmed.events, filmed.index, place, problems, filmed.name)
        if frame is None:
            return None
        instants[instant.text] = frame
    only = [
        resolve(instant, filmed.events, filmed.index, fields.place_of("only", at), problems, filmed.name)
        for at, instant in enumerate(fields.only)
    ]
    return PlannedOverlay(
        kind=kind,
        fields=fields,
        instants=instants,
        expected=expected_of(fields, site.ranges, problems),
        only=frozenset(frame for frame in only if frame is not None) if fields.only else None,
    )


def _looks_back(fields: OverlayFields) -> list[tuple[str, Instant]]:
    named = [(key, getattr(fields, key, None)) for key in ("placed", "since", "start", "to", "end")]
    written = {"start": "from", "end": "to"}
    return [(written.get(key, key), value) for key, value in named if isinstance(value, Instant)]


def _tell_unplaced(kind: OverlayKind, fields: OverlayFields, filmed: Filmed, problems: Problems) -> None:
    """A known mark that this clip has nowhere; unknown ones are told by the overlay's own check."""
    from lessonpress.records.mark import KNOWN_MARKS

    for loc, mark in fields.mark_places():
        if mark in KNOWN_MARKS and mark not in filmed.mark_names:
            problems.error(
                fields.place_of(*loc),
                f"`{mark}` is placed nowhere on the clip {filmed.name}",
                f"place it in {filmed.clip.path.replace('clip.yaml', 'marks.yaml')}",
            )
