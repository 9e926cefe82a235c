"""Which marks a lesson's figures need, at which frames, whether they are placed already or not."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping
from dataclasses import dataclass, fields

from lessonpress.figures.bind.floorplan import FEET, HANDS, HEAD, LINES
from lessonpress.figures.bind.lettering import Lettering
from lessonpress.figures.bind.panels import LessonContext, context_of
from lessonpress.figures.bind.surveyed_clip import SurveyedClip
from lessonpress.figures.plan.planned import Planned, PlannedOverlay, PlannedPanel
from lessonpress.figures.plan.planning import plan
from lessonpress.manuscript import Lesson, Site
from lessonpress.overlays import Words
from lessonpress.records import KNOWN_MARKS, Location, Problems


@dataclass(frozen=True)
class NeededMark:
    """A mark that an overlay of a figure needs on a frame. number: the figure's in the lesson, from 1.

    A middle is written out as its members. location: where the overlay names it. kind: the figure's.
    """

    clip: str
    mark: str
    frame: int
    figure: str
    number: int
    kind: str
    location: Location


@dataclass(frozen=True)
class _Hopeful(SurveyedClip):
    """A clip on which every mark may yet be placed, so that overlays on unplaced marks are planned too."""

    hoped: frozenset[str] = frozenset()

    @property
    def mark_names(self) -> frozenset[str]:
        return super().mark_names | self.hoped


def needed_marks(
    lesson: Lesson,
    site: Site,
    films: Mapping[str, SurveyedClip | None],
    problems: Problems,
    also: Collection[str] = (),
) -> tuple[NeededMark, ...]:
    """What the lesson's figures need, in their order, each once a figure. A loop asks for nothing.

    problems: what is wrong with the blocks themselves. also: names of marks, besides the known ones, that may
    yet be placed.
    """
    hoped = frozenset((*KNOWN_MARKS, *also))
    hopeful = {name: None if one is None else _hopeful(one, hoped) for name, one in films.items()}
    words = Words(site.implement.name, site.implement.head)
    shared = LessonContext(site.units, words, Lettering(), {})
    needed: dict[tuple[str, str, int, str], NeededMark] = {}
    planned, _ = plan(lesson, site, hopeful, problems)
    for figure in planned:
        if figure.kind == "loop":
            continue
        for at in figure.panels:
            for one in _of_plan(at, figure) if figure.kind == "plan" else ():
                needed.setdefault((one.clip, one.mark, one.frame, one.figure), one)
            for overlay in at.overlays:
                for one in _of(overlay, at, figure, shared):
                    needed.setdefault((one.clip, one.mark, one.frame, one.figure), one)
    return tuple(needed.values())


def _hopeful(filmed: SurveyedClip, hoped: frozenset[str]) -> _Hopeful:
    kept = {one.name: getattr(filmed, one.name) for one in fields(filmed)}
    return _Hopeful(**kept, hoped=hoped)


def _of_plan(at: PlannedPanel, figure: Planned) -> Iterator[NeededMark]:
    """What a plan draws of an instant; of the hands the grip."""
    location = figure.fields.location_of("frames", figure.panels.index(at))
    for mark in (*FEET, *(mark for line in LINES.values() for mark in line), HANDS[0], HEAD):
        yield NeededMark(at.filmed.name, mark, at.frame, figure.id, figure.number, figure.kind, location)


def _of(
    overlay: PlannedOverlay, at: PlannedPanel, figure: Planned, shared: LessonContext
) -> Iterator[NeededMark]:
    if not overlay.drawn_on(at.frame):
        return
    width, height = at.filmed.index.size
    context = context_of(overlay, at, (0.0, 0.0, float(width), float(height)), shared)
    for point in overlay.kind.needed(overlay.fields, context):
        for member in at.filmed.members(point.mark):
            location = overlay.location_of_mark(point.mark)
            yield NeededMark(
                at.filmed.name, member, point.frame, figure.id, figure.number, figure.kind, location
            )
