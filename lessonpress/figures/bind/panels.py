"""A panel: one picture with its overlays drawn, measured, lettered and put into words."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace

from lessonpress.figures.bind.lettering import Lettering
from lessonpress.figures.bind.readings import Saying
from lessonpress.figures.bind.surroundings import keep_clear, obscured
from lessonpress.figures.bind.surveyed_clip import SurveyedClip
from lessonpress.figures.plan.naming import NAMING_MARKS
from lessonpress.figures.plan.planned import Planned, PlannedOverlay, PlannedPanel
from lessonpress.figures.plates import DrawnOverlay, Panel, ScaleBar
from lessonpress.figures.words.credits import credit_of
from lessonpress.figures.words.described import alt, description
from lessonpress.figures.words.ledger import LedgerEntry, ledger_measure, refused_for
from lessonpress.footage import Unregistered
from lessonpress.measure import At, Measured, Refusal, Units, joined, largest_part, printed, says_nothing
from lessonpress.overlays import (
    Colour,
    Context,
    Tag,
    Words,
    at_instant,
    event_words,
    measures,
)
from lessonpress.records import Instant, Measure, PictureBox, Problems, Reading, differing, other_readings


@dataclass(frozen=True)
class LessonContext:
    """What binding a lesson's panels shares: units, words, letters, the crop of each clip.

    measured: what the surveys answered so far, by the measure's id, for differences of two; turned: of the
    pictures turned about.
    """

    units: Units
    words: Words
    lettering: Lettering
    crops: Mapping[str, PictureBox]
    measured: dict[str, Measured] = field(default_factory=dict)
    turned: dict[str, Measured] = field(default_factory=dict)


def panel_of(
    planned: Planned,
    at: PlannedPanel,
    crop: PictureBox,
    shared: LessonContext,
    problems: Problems,
    *,
    measured: bool = True,
) -> Panel:
    """The panel; refused measures warn, missing marks are errors.

    measured: False for a picture of a loop or between those that a strip names, which draws what it can.
    """
    filmed, frame = at.filmed, at.frame
    counts: dict[str, int] = {}
    drawn = []
    for overlay in at.overlays:
        if measures(overlay.kind):
            counts[overlay.kind.KIND] = counts.get(overlay.kind.KIND, 0) + 1
        if overlay.drawn_on(frame):
            name = (
                overlay.fields.measure_id
                or f"{planned.id}.{overlay.kind.KIND}.{counts.get(overlay.kind.KIND)}"
            )
            made = _drawn(overlay, planned, at, name + at.suffix, crop, shared, problems, moving=not measured)
            if made is not None:
                drawn.append(made)
    event = _event_at(filmed, at)
    card = filmed.card
    told = alt(card.view, at_instant(at.instant), drawn)
    return Panel(
        clip=filmed.name,
        title=filmed.title,
        frame=frame,
        event=event,
        label=event_words(event) if event else f"Frame {frame}",
        seconds=filmed.seconds[frame],
        size=filmed.index.size,
        crop=crop,
        drawn=tuple(drawn),
        marks=tuple((seen.x, seen.y) for seen in filmed.clip.observations if seen.frame == frame),
        keep_clear=keep_clear(filmed, frame),
        bar=_bar(filmed, at),
        credit=credit_of(card.source),
        alt=told,
        alt_otherwise=differing(
            told,
            [
                (reading, alt(card.view, at_instant(at.instant), drawn, reading))
                for reading in other_readings(shared.units)
            ],
        ),
        mirrored=at.mirrored,
        obscured=obscured(filmed, frame, problems),
    )


def described(panel: Panel, at: PlannedPanel, reading: Reading | None = None) -> str:
    """The long description of a panel."""
    view = at.filmed.card.view
    return description(
        view, at_instant(at.instant), panel.title, panel.frame, panel.seconds, panel.drawn, reading
    )


def _event_at(filmed: SurveyedClip, at: PlannedPanel) -> str:
    if at.instant.event is not None and not at.instant.plus:
        return at.instant.event
    return next((event for event, frame in filmed.events.items() if frame == at.frame), "")


def _drawn(
    overlay: PlannedOverlay,
    planned: Planned,
    at: PlannedPanel,
    measure_id: str,
    crop: PictureBox,
    shared: LessonContext,
    problems: Problems,
    *,
    moving: bool,
) -> DrawnOverlay | None:
    kind, fields = overlay.kind, overlay.fields
    context = context_of(overlay, at, crop, shared)
    needed = kind.needed(fields, context)
    missing = [point for point in needed if not at.filmed.sees(point.mark, point.frame)]
    if missing and not moving:
        _ask_for(missing, overlay, at, problems)
    consequences = at.filmed.consequences(problems)
    if missing or not _registered(overlay, at, [point.frame for point in needed], consequences):
        return None
    saying = Saying(kind, fields, context, shared.units, moving)
    measured = saying.outcome(Reading(shared.units))
    turned = saying.outcome(Reading(shared.units, turned=True)) if saying.on_a_clock else measured
    if isinstance(measured, Refusal):
        cause = refused_for(measured.reason)
        consequences.warn(
            overlay.location, f"{kind.KIND} is not measured: {measured.reason}", measured.way_out, cause=cause
        )
    if isinstance(measured, Measured):
        _warn_of_nothing_said(overlay, at, measured, shared.units, consequences)
    letter = shared.lettering.letter(overlay.sameness) if fields.show else ""
    measure: Measure | None = None
    if measured is not None and turned is not None and fields.DIMENSION is not None:
        entry = LedgerEntry(
            id=measure_id,
            kind=kind.KIND,
            dimension=fields.DIMENSION,
            figure=planned.id,
            letter=letter,
            clip=at.filmed.name,
            plane=at.filmed.survey.setting.plane,
            axis=fields.along,
            since=fields.from_instant.text if fields.from_instant else None,
            points=needed,
            name=kind.name(fields, context),
            expected=overlay.expected,
        )
        measure = _entered(entry, measured, turned, shared)
    said = saying.said(measured, turned)
    return DrawnOverlay(
        letter=letter,
        kind=kind.KIND,
        colour=_colour(overlay, context),
        shown=fields.show,
        standing=fields.placed is not None and not measures(kind),
        name=said.name,
        sentence=said.sentence,
        shapes=said.shapes,
        measure=measure,
        name_otherwise=said.name_otherwise,
        sentence_otherwise=said.sentence_otherwise,
    )


def _ask_for(missing: Sequence[At], overlay: PlannedOverlay, at: PlannedPanel, problems: Problems) -> None:
    """Reports each place that a mark is missing at, once."""
    by_event = ("events",) if at.instant.event is not None or overlay.instants else ()
    of_marks = at.filmed.consequences(problems, *NAMING_MARKS, *by_event)
    for point in dict.fromkeys(point for point in missing if not _is_misplaced(point.mark, at.filmed)):
        of_marks.error(
            overlay.location_of_mark(point.mark),
            f"`{point.mark}` is not placed on frame {point.frame} of {at.filmed.name}",
            "place it there, carry it there with `lessonpress track`, or leave the overlay out",
        )


def _entered(
    entry: LedgerEntry, measured: Measured | Refusal, turned: Measured | Refusal, shared: LessonContext
) -> Measure:
    """The measure for the ledger; what was measured is kept for differences."""
    measure = ledger_measure(entry, measured, shared.units)
    if turned is not measured:
        measure = replace(measure, turned=ledger_measure(entry, turned, shared.units))
    if isinstance(measured, Measured):
        shared.measured[entry.id] = measured
    if isinstance(turned, Measured):
        shared.turned[entry.id] = turned
    return measure


def _is_misplaced(mark: str, filmed: SurveyedClip) -> bool:
    """Whether a placing of a mark, or of a member of a middle, is reported already."""
    return not filmed.misplaced.isdisjoint(filmed.members(mark))


def _warn_of_nothing_said(
    overlay: PlannedOverlay, at: PlannedPanel, measured: Measured, units: Units, problems: Problems
) -> None:
    """A number whose ± is as wide as all it could be is printed, as asked, and its author is warned."""
    scale = at.filmed.survey.px_per_metre()
    if not says_nothing(measured, max(at.filmed.index.size) / scale if scale else None):
        return
    pm = printed(measured.value, measured.uncertainty, measured.dimension, units)
    part = largest_part(measured)
    most = f"; most of it comes from {part[0]} ({part[1]:.0%})".replace("%", " %") if part else ""
    problems.warn(
        overlay.location,
        f"{overlay.kind.KIND} says nothing: ± {joined(pm.pm, pm.unit)} is as wide as all it could be{most}",
        "make that surer on the card or by the marks, or leave the number out",
    )


def _registered(overlay: PlannedOverlay, at: PlannedPanel, frames: Sequence[int], problems: Problems) -> bool:
    """Whether every picture an overlay rests on lies on the room; a silent guess would move its lines.

    One picture alone, with no plumb line or scale from another, needs no room to lie on.
    """
    motion = at.filmed.study.motion
    if motion is None:
        return True
    needed = {at.frame, *frames, *at.filmed.frames_of_the_room}
    for frame in sorted(needed) if len(needed) > 1 else ():
        placed = motion.to_reference(frame)
        if isinstance(placed, Unregistered):
            problems.error(
                overlay.location,
                f"frame {frame} of {at.filmed.name} cannot be laid on the room: {placed.reason}",
                "choose another picture, or write `still: true` under camera if it stood on a tripod",
            )
            return False
    return True


def _colour(overlay: PlannedOverlay, context: Context) -> Colour:
    """The colour of its tag, which is what its letter is printed in."""
    shapes = overlay.kind.shapes(overlay.fields, context, None)
    return next((shape.colour for shape in shapes if isinstance(shape, Tag)), "black")


def context_of(overlay: PlannedOverlay, at: PlannedPanel, crop: PictureBox, shared: LessonContext) -> Context:
    """What an overlay is drawn and measured from on a panel."""
    filmed = at.filmed

    def frame_of(instant: Instant) -> int:
        return overlay.instants[instant.text]

    return Context(
        survey=filmed.survey,
        frame=at.frame,
        frame_of=frame_of,
        size=filmed.index.size,
        crop=crop,
        units=shared.units,
        words=shared.words,
        instant=at_instant(at.instant),
        mirrored=at.mirrored,
        site_units=shared.units,
    )


def _bar(filmed: SurveyedClip, at: PlannedPanel) -> ScaleBar | None:
    """Zero lies under the first vertical drawn, else under the navel at setup, else in the crop's middle."""
    scale = filmed.survey.px_per_metre()
    if scale is None or filmed.card.view == "overhead":
        return None
    return ScaleBar(scale, _zero(filmed, at), filmed.card.flight[1], filmed.card.goal)


def _zero(filmed: SurveyedClip, at: PlannedPanel) -> float:
    lines = [overlay for overlay in at.overlays if overlay.fields.BAR_ZERO]
    wanted = next((one for one in lines if "navel" in one.fields.marks), next(iter(lines), None))
    if wanted is not None:
        mark = wanted.fields.marks[0]
        then = wanted.instants.get(wanted.fields.placed.text, at.frame) if wanted.fields.placed else at.frame
        if filmed.sees(mark, then):
            return filmed.survey.position(At(mark, then), at.frame)[0]
    setup = filmed.events.get("setup")
    if setup is not None and filmed.sees("navel", setup):
        return filmed.survey.position(At("navel", setup), at.frame)[0]
    return filmed.index.size[0] / 2
