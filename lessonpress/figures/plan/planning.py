"""Plans a figure from its block: its fields, clip, frames and overlays, all checked.

Nothing is drawn or measured yet, since the crop of one figure rests on the frames of all figures of a lesson.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from collections.abc import Sequence as SequenceOf
from dataclasses import dataclass
from functools import cached_property, partial

from lessonpress.figures.bind import loops
from lessonpress.figures.bind.expected import expected_of
from lessonpress.figures.bind.surveyed_clip import SurveyedClip
from lessonpress.figures.plan import stretches
from lessonpress.figures.plan.claims import by_block, by_key, by_measure, by_overlay, by_text
from lessonpress.figures.plan.crowding import check_crowding
from lessonpress.figures.plan.fields import FIGURES, FigureFields, LoopFields, Shot, StripFields
from lessonpress.figures.plan.instants import frame_of_instant
from lessonpress.figures.plan.naming import NAMING_MARKS, check_instant, check_names, instants_of
from lessonpress.figures.plan.planned import Planned, PlannedOverlay, PlannedPanel
from lessonpress.figures.words.labels import check_length
from lessonpress.manuscript import Block, Lesson, Node, Scalar, Sequence, Site, nothing_placed, read_fields
from lessonpress.overlays import (
    OverlayFields,
    OverlayKind,
    Sets,
    check_marks,
    check_scale,
    expand,
    read_overlay,
)
from lessonpress.records import KNOWN_MARKS, Location, Problems, nearest


@dataclass(frozen=True)
class Planning:
    """What planning a lesson shares. films: by clip, None for one whose mistakes are reported.

    taken: ids of figures and measures, with locations. claimed: every id that a mistake may have left out.
    """

    lesson: Lesson
    site: Site
    films: Mapping[str, SurveyedClip | None]
    problems: Problems
    taken: dict[str, Location]
    claimed: set[str]

    @cached_property
    def printed(self) -> frozenset[str]:
        """The ids that the lesson's text prints."""
        return frozenset(reference.figure or reference.base for reference in self.lesson.references)

    def overlays(self, entries: Iterable[Node]) -> list[tuple[OverlayKind, OverlayFields]]:
        """The overlays of a `draw` list that can be read; what the others would give away is claimed."""
        sets = Sets(self.site.sets, partial(self.site.lost, "sets"))
        nodes, without = expand(entries, sets, self.problems)
        planned = []
        for node in without:
            self.claimed.update(by_overlay(node, self.printed))
        for node in nodes:
            overlay = read_overlay(node, self.problems)
            if overlay is None:
                self.claimed.update(by_overlay(node, self.printed))
                continue
            if overlay[1].measure_id is None:
                self.claimed.update(by_key("as", node, self.printed))
            planned.append(overlay)
        return planned


def plan(
    lesson: Lesson, site: Site, films: Mapping[str, SurveyedClip | None], problems: Problems
) -> tuple[tuple[Planned, ...], frozenset[str]]:
    """The lesson's figures in the order written, less those whose own mistakes leave nothing to show.

    With them every id that the lesson gives away, those of figures left out among them.
    """
    planning = Planning(lesson, site, films, problems, {}, set())
    figures = [block for block in lesson.blocks if block.kind in FIGURES]
    planned = [_planned(block, number, planning) for number, block in enumerate(figures, start=1)]
    claimed = frozenset(planning.taken.keys() | planning.claimed)
    return tuple(one for one in planned if one is not None), claimed


def _claim(name: str, location: Location, taken: dict[str, Location], problems: Problems) -> None:
    """One namespace a lesson: figures and measures."""
    if name in taken:
        problems.error(
            location, f"the id `{name}` is taken at line {taken[name].line}", "give each its own id"
        )
        return
    taken[name] = location


def _planned(block: Block, number: int, planning: Planning) -> Planned | None:
    if block.node is None:
        planning.claimed.update(by_text(block.text))
        return None
    fields = read_fields(FIGURES[block.kind], block.node, planning.problems)
    if fields is None:
        planning.claimed.update(by_block(block.node, planning.printed))
        _check_drawn(block, planning)
        return None
    if fields.id is not None:
        # manuscript reports two figures of one id
        planning.taken.setdefault(fields.id, fields.location_of("id"))
    if fields.id is None or fields.lost("draw"):
        planning.claimed.update(by_block(block.node, planning.printed))
    nodes = planning.overlays(fields.draw)
    for _, given in nodes:
        check_length(given, planning.problems)
        if given.measure_id is not None:
            _claim(given.measure_id, given.location_of("as"), planning.taken, planning.problems)
            planning.claimed.update(by_measure(given.measure_id, block.kind, fields.shots))
    panels = _panels(block, fields, nodes, planning)
    if isinstance(fields, LoopFields):
        panels = loops.every_frame(panels, fields, planning.problems)
    between: tuple[PlannedPanel, ...] = ()
    if isinstance(fields, StripFields) and fields.start is not None:
        panels, between = stretches.filled(panels, fields, planning.problems)
    return Planned(block.kind, fields.id or f"plate-{number}", number, block, fields, panels, between)


def _check_drawn(block: Block, planning: Planning) -> None:
    """What a figure that cannot be shown draws is held against its clip all the same."""
    assert block.node is not None
    drawn, own = block.node.get("draw"), block.node.get("clip")
    name = own.written if isinstance(own, Scalar) else planning.lesson.clip
    for overlay in planning.overlays(drawn.items if isinstance(drawn, Sequence) else ()):
        if overlay[1].measure_id is not None:
            planning.claimed.add(overlay[1].measure_id)
        if name in planning.site.clips:
            check_names(overlay, planning.site.clips[name], planning.problems)


def _panels(
    block: Block,
    fields: FigureFields,
    nodes: SequenceOf[tuple[OverlayKind, OverlayFields]],
    planning: Planning,
) -> tuple[PlannedPanel, ...]:
    """Its panels; none where one of them cannot be shown, so that no figure is printed by halves."""
    panels = []
    overlays: dict[str, tuple[PlannedOverlay, ...]] = {}
    for shot in fields.shots:
        filmed = _filmed(shot, fields, block, planning)
        if filmed is None:
            _check_by_card(shot, fields, nodes, planning)
            continue
        location = fields.location_of(*shot.loc)
        frame = frame_of_instant(
            shot.instant, filmed.events, filmed.index, location, planning.problems, filmed.clip
        )
        if filmed.name not in overlays:
            overlays[filmed.name] = tuple(
                made
                for kind, given in nodes
                if (made := _overlay(kind, given, filmed, planning.site, planning.problems)) is not None
            )
        if frame is not None:
            mirrored = fields.mirrored or shot.mirrored
            on_it = overlays[filmed.name]
            panels.append(PlannedPanel(filmed, frame, shot.instant, on_it, mirrored, shot.suffix))
    shown = len(panels) == len(fields.shots) and check_crowding(panels, planning.problems)
    return tuple(panels) if shown else ()


def _check_by_card(
    shot: Shot,
    fields: FigureFields,
    nodes: SequenceOf[tuple[OverlayKind, OverlayFields]],
    planning: Planning,
) -> None:
    """What a figure says of a clip that cannot be used, as far as the clip's files say."""
    clip = planning.site.clips.get(shot.clip or fields.clip or planning.lesson.clip or "")
    if clip is None:
        return
    check_instant(shot.instant, clip, fields.location_of(*shot.loc), planning.problems)
    for overlay in nodes:
        check_names(overlay, clip, planning.problems)


def _filmed(shot: Shot, fields: FigureFields, block: Block, planning: Planning) -> SurveyedClip | None:
    own = shot.clip or fields.clip
    name = own or planning.lesson.clip
    if name is None:
        if not fields.lost("clip") and not planning.lesson.front.lost("clip"):
            right = "write `clip: NAME` here or in the lesson's front matter"
            planning.problems.error(block.location, "this figure names no clip", right, cause="no clip")
        return None
    if name not in planning.films:
        # an unknown clip in the front matter is reported there, once
        if own:
            location = fields.location_of(*shot.clip_loc) if shot.clip else fields.location_of("clip")
            near = nearest(name, planning.films)
            planning.problems.error(
                location, f"there is no clip `{name}`", "clips are folders of clips/", nearest=near
            )
        return None
    return planning.films[name]


def _overlay(
    kind: OverlayKind, fields: OverlayFields, filmed: SurveyedClip, site: Site, problems: Problems
) -> PlannedOverlay | None:
    check_scale(kind, fields, filmed.survey.lengths_refused, filmed.consequences(problems))
    consequences = filmed.consequences(problems, *NAMING_MARKS)
    check_marks(fields, filmed.name, filmed.mark_names, consequences)
    if any(mark not in filmed.mark_names for mark in fields.marks):
        _report_unplaced(fields, filmed, consequences)
        return None
    instants: dict[str, int] = {}
    for instant, location in instants_of(kind, fields):
        frame = frame_of_instant(instant, filmed.events, filmed.index, location, problems, filmed.clip)
        if frame is None:
            return None
        instants[instant.text] = frame
    only = [
        frame_of_instant(
            instant, filmed.events, filmed.index, fields.location_of("only", at), problems, filmed.clip
        )
        for at, instant in enumerate(fields.only)
    ]
    return PlannedOverlay(
        kind=kind,
        fields=fields,
        instants=instants,
        expected=expected_of(fields, site, problems),
        only=frozenset(frame for frame in only if frame is not None) if fields.only else None,
    )


def _report_unplaced(fields: OverlayFields, filmed: SurveyedClip, problems: Problems) -> None:
    """A known mark that this clip has nowhere; the overlay's own check reports unknown ones."""
    for loc, mark in fields.mark_places():
        if mark in KNOWN_MARKS and mark not in filmed.mark_names:
            if not filmed.clip.marks:
                problems.extend([nothing_placed(filmed.clip.path)])
                continue
            problems.error(
                fields.location_of(*loc),
                f"`{mark}` is placed nowhere on the clip {filmed.name}",
                f"place it in {filmed.clip.marks_path}",
            )
