"""A lesson's figure blocks bound to their clips: plates with numerals, letters, measures and words."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence

from lessonpress.figures import crop as cropping
from lessonpress.figures.described import strip_alt
from lessonpress.figures.filming import Filmed
from lessonpress.figures.keys import keys_of
from lessonpress.figures.labels import with_numbers
from lessonpress.figures.lettering import Lettering, numeral
from lessonpress.figures.panels import Bench, described, panel_of
from lessonpress.figures.planning import Planned, PlannedPanel, plan
from lessonpress.figures.plates import BoundLesson, Box, Panel, Plate
from lessonpress.figures.references import check_references
from lessonpress.manuscript.lesson import Lesson
from lessonpress.manuscript.site import Site
from lessonpress.overlays import Words
from lessonpress.records.measure import Measure
from lessonpress.records.problem import Problems


def bind_lesson(
    lesson: Lesson, site: Site, films: Mapping[str, Filmed | None], problems: Problems
) -> BoundLesson:
    """The lesson with its plates and its ledger; what is wrong is reported and left out."""
    planned = plan(lesson, site, films, problems)
    bench = Bench(
        units=site.units,
        words=Words(site.implement.name, site.implement.head),
        lettering=Lettering(),
        crops=_auto_crops(planned),
    )
    plates = []
    for figure in planned:
        if figure.panels:
            plates.append(_plate(figure, bench, problems))
    measures = {
        drawn.measure.id: drawn.measure
        for plate in plates
        for panel in plate.panels
        for drawn in panel.drawn
        if drawn.measure is not None
    }
    named = {**measures, **_by_place(planned, plates)}
    colours = {
        drawn.measure.id: drawn.colour
        for plate in plates
        for panel in plate.panels
        for drawn in panel.drawn
        if drawn.measure is not None
    }
    check_references(lesson, {plate.id for plate in plates}, named, problems)
    lettered = tuple(with_numbers(plate, named, site.units) for plate in plates)
    return BoundLesson(lesson, lettered, measures, colours, named)


def _plate(planned: Planned, bench: Bench, problems: Problems) -> Plate:
    panels = tuple(
        panel_of(planned, at, _crop(planned, at, bench, problems), bench, problems) for at in planned.panels
    )
    fields = planned.fields
    return Plate(
        id=planned.id,
        kind=planned.kind,
        numeral=numeral(planned.number),
        line=planned.block.line,
        panels=panels,
        caption=fields.caption or "",
        caption_line=fields.place_of("caption").line,
        alt=fields.alt or _drafted_alt(planned, panels),
        description="\n\n".join(
            described(panel, at) for panel, at in zip(panels, planned.panels, strict=True)
        ),
        mirrored=fields.mirrored,
        keys=keys_of(panels),
        measures=tuple(
            dict.fromkeys(drawn.measure.id for panel in panels for drawn in panel.drawn if drawn.measure)
        ),
    )


def _drafted_alt(planned: Planned, panels: Sequence[Panel]) -> str:
    if len(panels) == 1:
        return panels[0].alt
    return strip_alt(planned.panels[0].filmed.card.view, [panel.label for panel in panels])


def _by_place(planned: Iterable[Planned], plates: Iterable[Plate]) -> dict[str, Measure]:
    """Measures of strips under their place as well: knee.2 is knee.top where top comes second."""
    plates_by_id = {plate.id: plate for plate in plates}
    found: dict[str, Measure] = {}
    for figure in planned:
        plate = plates_by_id.get(figure.id)
        if figure.kind != "strip" or plate is None:
            continue
        for number, (panel, at) in enumerate(zip(plate.panels, figure.panels, strict=True), start=1):
            for drawn in panel.drawn:
                if drawn.measure is not None:
                    found[f"{drawn.measure.id.removesuffix(at.suffix)}.{number}"] = drawn.measure
    return found


def _auto_crops(planned: Iterable[Planned]) -> dict[str, Box]:
    """One crop a clip: the hull of its marks on all the frames that the lesson shows."""
    frames: dict[str, set[int]] = {}
    films: dict[str, Filmed] = {}
    for figure in planned:
        for at in figure.panels:
            frames.setdefault(at.filmed.name, set()).add(at.frame)
            films[at.filmed.name] = at.filmed
    return {
        name: cropping.auto(_hull(films[name], shown), films[name].index.size)
        for name, shown in frames.items()
    }


def _hull(filmed: Filmed, frames: set[int]) -> list[tuple[float, float]]:
    """The golfer's marks on those frames; the room's would widen every picture to the walls."""
    return [
        (seen.x, seen.y)
        for seen in filmed.clip.sightings
        if seen.frame in frames and seen.mark not in filmed.card.room
    ]


def _crop(planned: Planned, at: PlannedPanel, bench: Bench, problems: Problems) -> Box:
    wanted, size = planned.fields.crop, at.filmed.index.size
    if wanted == "whole":
        return cropping.whole(size)
    if wanted == "auto":
        return bench.crops[at.filmed.name]
    left, top, right, bottom = wanted
    if right > size[0] or bottom > size[1]:
        problems.error(
            planned.fields.place_of("crop"),
            f"this crop reaches past the picture of {size[0]} × {size[1]} px",
            "left, top, right, bottom are px of the upright picture",
        )
    return (left, top, min(right, float(size[0])), min(bottom, float(size[1])))
