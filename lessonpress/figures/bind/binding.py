"""Binds a lesson's figures to their clips: plates with numerals, letters, measures and words."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

from lessonpress.figures.bind import crop as cropping
from lessonpress.figures.bind import pairs
from lessonpress.figures.bind.extent import hull
from lessonpress.figures.bind.floorplan import alt_of as alt_of_plan
from lessonpress.figures.bind.floorplan import floor_plan, parts_of, told
from lessonpress.figures.bind.lettering import Lettering, numeral
from lessonpress.figures.bind.loops import loop_of
from lessonpress.figures.bind.pairs import Difference, differences
from lessonpress.figures.bind.panels import LessonContext, described, panel_of
from lessonpress.figures.bind.progress import alt_of, over_clips, over_lessons
from lessonpress.figures.bind.remembered import remembered
from lessonpress.figures.bind.surveyed_clip import SurveyedClip
from lessonpress.figures.bind.timing import TEMPO, facts_of, tempo_of
from lessonpress.figures.plan.claims import by_measure
from lessonpress.figures.plan.fields import LoopFields
from lessonpress.figures.plan.planned import Planned, PlannedPanel
from lessonpress.figures.plan.planning import plan
from lessonpress.figures.plates import BoundLesson, Chart, Panel, Plate
from lessonpress.figures.words.described import loop_alt, pair_alt, strip_alt
from lessonpress.figures.words.keys import keys_of
from lessonpress.figures.words.labels import with_numbers
from lessonpress.figures.words.references import Printable, check_references
from lessonpress.manuscript import Lesson, Site
from lessonpress.overlays import Colour, Words
from lessonpress.records import (
    Measure,
    PictureBox,
    Problems,
    Reading,
    Units,
    differing,
    in_reading,
    other_readings,
)


@dataclass(frozen=True)
class Begun:
    """A lesson whose panels are measured; charts of others' numbers and the text come after.

    claimed: every id the lesson gives away, also those of figures whose mistakes left them out. faulty: clips
    whose files hold mistakes. unexpecting: measures whose `expect` holds a mistake, or the range it names.
    """

    planned: tuple[Planned, ...]
    bound: BoundLesson
    claimed: frozenset[str]
    faulty: frozenset[str]
    unexpecting: frozenset[str]


def begin_lesson(
    lesson: Lesson, site: Site, films: Mapping[str, SurveyedClip | None], problems: Problems
) -> Begun:
    """The lesson with its plates and its ledger; what is wrong is reported and left out."""
    planned, claimed = plan(lesson, site, films, problems)
    shared = LessonContext(
        units=site.units,
        words=Words(site.implement.name, site.implement.head),
        lettering=Lettering(remembered(planned)),
        crops=_auto_crops(planned),
    )
    ledger: dict[str, Measure] = {}
    colours: dict[str, Colour] = {}
    plates = []
    for figure in planned:
        if figure.panels:
            plate = _plate(figure, shared, ledger, colours, problems)
            if plate is not None:
                plates.append(plate)
    _add_tempo(lesson, site, films, ledger)
    named = {**ledger, **_by_position(planned, plates)}
    shown = {at.filmed.name: at.filmed for figure in planned for at in figure.panels}
    clips = tuple(facts_of(filmed) for filmed in shown.values())
    used = {**shown, lesson.clip: films.get(lesson.clip)} if lesson.clip is not None else shown
    return Begun(
        planned,
        BoundLesson(lesson, tuple(plates), ledger, colours, named, clips),
        claimed,
        faulty=frozenset(name for name, filmed in used.items() if filmed is None or filmed.doubted()),
        unexpecting=frozenset(_unexpecting(planned)),
    )


def _add_tempo(
    lesson: Lesson, site: Site, films: Mapping[str, SurveyedClip | None], ledger: dict[str, Measure]
) -> None:
    """The tempo of the lesson's clip, in the ledger where the text prints it."""
    filmed = films.get(lesson.clip) if lesson.clip is not None else None
    if filmed is not None and any(reference.id == TEMPO for reference in lesson.references):
        ledger[TEMPO] = tempo_of(filmed, site.units)


def finish_lesson(
    begun: Begun,
    others: Mapping[str, BoundLesson],
    site: Site,
    problems: Problems,
) -> BoundLesson:
    """The lesson with its charts of other lessons' numbers, its references checked, its labels printed."""
    bound = begun.bound
    plates = list(bound.plates)
    for figure in begun.planned:
        if figure.charts_lessons:
            chart = over_lessons(figure, others, site.clips, problems)
            if chart is not None:
                plates.append(_chart_plate(figure, chart, ()))
    plates.sort(key=lambda plate: plate.line)
    printable = Printable(
        figures=frozenset(plate.id for plate in plates),
        named=bound.named,
        claimed=begun.claimed,
        faulty=begun.faulty,
        unexpecting=begun.unexpecting,
    )
    check_references(bound.lesson, printable, problems)
    lettered = tuple(with_numbers(plate, bound.named, site.units) for plate in plates)
    return replace(bound, plates=lettered)


def _unexpecting(planned: Iterable[Planned]) -> Iterator[str]:
    """The names of the measures whose `expect` holds a mistake, or the range it names."""
    for figure in planned:
        for overlay in figure.overlays:
            given = overlay.fields
            asked = given.expect is not None or given.lost("expect")
            if given.measure_id is not None and asked and overlay.expected is None:
                yield from by_measure(given.measure_id, figure.kind, figure.fields.shots)


def _plate(
    planned: Planned,
    shared: LessonContext,
    ledger: dict[str, Measure],
    colours: dict[str, Colour],
    problems: Problems,
) -> Plate | None:
    """The plate; its measures go into the ledger. None for a chart or a plan that has too little to show."""
    if planned.kind == "plan":
        return _plan_plate(planned, shared, problems)
    crops = _crops(planned, shared, problems)
    panels = tuple(
        panel_of(planned, at, crop, shared, problems, measured=planned.kind != "loop")
        for at, crop in zip(planned.panels, crops, strict=True)
    )
    if isinstance(planned.fields, LoopFields):
        return _loop_plate(planned, panels, planned.fields, shared.units, problems)
    drawn = [one for panel in panels for one in panel.drawn if one.measure is not None]
    measures = {one.measure.id: one.measure for one in drawn if one.measure is not None}
    colours |= {one.measure.id: one.colour for one in drawn if one.measure is not None}
    compared = differences(planned.id, panels, shared) if planned.kind == "pair" else ()
    for one in compared:
        measures[one.measure.id] = one.measure
        colours[one.measure.id] = colours[one.measure.id.replace(".difference", ".first")]
    ledger |= measures
    if planned.kind == "progress":
        chart = over_clips(planned, panels, problems)
        return None if chart is None else _chart_plate(planned, chart, tuple(measures))
    plate = _picture_plate(planned, panels, tuple(measures), compared, shared.units)
    return replace(plate, between=_between(planned, shared, problems))


def _between(planned: Planned, shared: LessonContext, problems: Problems) -> tuple[Panel, ...]:
    """The pictures of a strip between those it names; a line that some of them cannot carry is a warning."""
    panels = tuple(
        panel_of(planned, at, _crop(planned, at, shared, problems), shared, problems, measured=False)
        for at in planned.between
    )
    for overlay in planned.between[0].overlays if planned.between else ():
        letter = shared.lettering.letter(overlay.sameness) if overlay.fields.show else ""
        without = [
            panel.frame
            for panel in panels
            if letter and overlay.drawn_on(panel.frame) and letter not in {one.letter for one in panel.drawn}
        ]
        if without:
            problems.warn(
                overlay.location,
                f"this line is not on {len(without)} of the {len(panels)} pictures between, from frame "
                f"{without[0]} on: its marks are not placed there",
                "carry them there with `lessonpress track`",
            )
    return panels


def _picture_plate(
    planned: Planned,
    panels: Sequence[Panel],
    measures: tuple[str, ...],
    compared: Sequence[Difference],
    units: Units,
) -> Plate:
    def description(reading: Reading | None = None) -> str:
        pictures = [described(panel, at, reading) for panel, at in zip(panels, planned.panels, strict=True)]
        remarks = [in_reading(one.sentence, one.otherwise, reading) for one in compared]
        return "\n\n".join([*pictures, *remarks])

    told = description()
    alt = planned.fields.alt or _drafted_alt(planned, panels)
    return replace(
        _bare_plate(planned, measures),
        panels=tuple(panels),
        alt=alt,
        alt_otherwise=panels[0].alt_otherwise if alt == panels[0].alt else (),
        description=told,
        description_otherwise=differing(
            told, [(reading, description(reading)) for reading in other_readings(units)]
        ),
        keys=keys_of(panels),
        remarks=tuple(one.sentence for one in compared),
        remarks_otherwise=tuple(one.otherwise for one in compared),
    )


def _loop_plate(
    planned: Planned, panels: Sequence[Panel], fields: LoopFields, units: Units, problems: Problems
) -> Plate:
    """The plate of a loop; an overlay that no picture of it can carry is an error."""
    carried = {(one.kind, one.name) for panel in panels for one in panel.drawn}
    if len({(overlay.kind.KIND, overlay.fields.marks) for overlay in planned.panels[0].overlays}) > len(
        carried
    ):
        problems.error(
            planned.block.location,
            "an overlay of this loop has its marks on none of its frames",
            "carry them there with `lessonpress track`, or leave it out",
        )
    loop = loop_of(planned.panels, panels, fields.slowed)
    first = replace(
        _picture_plate(replace(planned, panels=planned.panels[:1]), panels[:1], (), (), units), loop=loop
    )
    alt_text = loop_alt(planned.panels[0].filmed.card.view, panels[0].label, panels[-1].label, fields.slowed)
    return replace(
        first,
        alt=planned.fields.alt or alt_text,
        description="\n\n".join([alt_text, first.description]),
        description_otherwise=tuple(
            (reading, "\n\n".join([alt_text, told])) for reading, told in first.description_otherwise
        ),
        keys=keys_of(panels),
    )


def _chart_plate(planned: Planned, chart: Chart, measures: tuple[str, ...]) -> Plate:
    alt = planned.fields.alt or alt_of(chart)
    return replace(_bare_plate(planned, measures), alt=alt, description=alt, chart=chart)


def _plan_plate(planned: Planned, shared: LessonContext, problems: Problems) -> Plate | None:
    plan = floor_plan(planned, problems)
    if plan is None:
        return None

    parts = parts_of(planned)

    def description(reading: Reading | None = None) -> str:
        return told(plan, parts, shared.words, shared.units if reading is None else reading.units)

    said = description()
    otherwise = [(reading, description(reading)) for reading in other_readings(shared.units)]
    return replace(
        _bare_plate(planned, ()),
        alt=planned.fields.alt or alt_of_plan(plan),
        description=said,
        description_otherwise=differing(said, otherwise),
        plan=plan,
    )


def _bare_plate(planned: Planned, measures: tuple[str, ...]) -> Plate:
    fields = planned.fields
    return Plate(
        id=planned.id,
        kind=planned.kind,
        numeral=numeral(planned.number),
        line=planned.block.line,
        panels=(),
        caption=fields.caption or "",
        caption_line=fields.location_of("caption").line,
        alt="",
        description="",
        mirrored=fields.mirrored,
        keys=(),
        measures=measures,
    )


def _drafted_alt(planned: Planned, panels: Sequence[Panel]) -> str:
    if len(panels) == 1:
        return panels[0].alt
    if planned.kind == "pair":
        return pair_alt([panel.title for panel in panels], [panel.label for panel in panels])
    return strip_alt(planned.panels[0].filmed.card.view, [panel.label for panel in panels])


def _by_position(planned: Iterable[Planned], plates: Iterable[Plate]) -> dict[str, Measure]:
    """Measures of strips under their position as well: knee.2 is knee.top where top comes second."""
    plates_by_id = {plate.id: plate for plate in plates}
    measures: dict[str, Measure] = {}
    for figure in planned:
        plate = plates_by_id.get(figure.id)
        if figure.kind != "strip" or plate is None:
            continue
        for number, (panel, at) in enumerate(zip(plate.panels, figure.panels, strict=True), start=1):
            for drawn in panel.drawn:
                if drawn.measure is not None:
                    measures[f"{drawn.measure.id.removesuffix(at.suffix)}.{number}"] = drawn.measure
    return measures


def _auto_crops(planned: Iterable[Planned]) -> dict[str, PictureBox]:
    """One crop a clip: the hull of the golfer on all the frames that the lesson shows."""
    frames: dict[str, set[int]] = {}
    films: dict[str, SurveyedClip] = {}
    for figure in (one for one in planned if one.kind != "plan"):
        for at in (*figure.panels, *figure.between):
            frames.setdefault(at.filmed.name, set()).add(at.frame)
            films[at.filmed.name] = at.filmed
    return {
        name: cropping.auto(hull(films[name], shown), films[name].index.size)
        for name, shown in frames.items()
    }


def _crops(planned: Planned, shared: LessonContext, problems: Problems) -> tuple[PictureBox, ...]:
    """The crop of each panel; a pair that may choose shows both at one scale."""
    if planned.kind == "pair" and planned.fields.crop == "auto":
        sides = [(at.filmed, at.frame) for at in planned.panels]
        alike = pairs.crops(sides, [hull(filmed, {frame}) for filmed, frame in sides])
        if alike is not None:
            return alike
        consequences = Problems() if any(filmed.doubted() for filmed, _ in sides) else problems
        consequences.warn(
            planned.block.location,
            "the two pictures are not at one scale, since a clip has none",
            "add a known length to its card",
        )
    return tuple(_crop(planned, at, shared, problems) for at in planned.panels)


def _crop(planned: Planned, at: PlannedPanel, shared: LessonContext, problems: Problems) -> PictureBox:
    wanted, size = planned.fields.crop, at.filmed.index.size
    if wanted == "whole":
        return cropping.full_frame(size)
    if wanted == "auto":
        return shared.crops[at.filmed.name]
    left, top, right, bottom = wanted
    if right > size[0] or bottom > size[1]:
        problems.error(
            planned.fields.location_of("crop"),
            f"this crop reaches past the picture of {size[0]} × {size[1]} px",
            "left, top, right, bottom are px of the upright picture",
        )
        return cropping.full_frame(size)
    return (left, top, right, bottom)
