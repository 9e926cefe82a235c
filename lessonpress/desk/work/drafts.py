"""A figure being composed, drawn and measured by the press's own code; and what figures still need."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, replace
from datetime import date
from itertools import groupby
from typing import Any

from lessonpress.desk.http.requests import DrawDraft
from lessonpress.desk.http.responses import RequestError, problem_json
from lessonpress.desk.views.livesite import LiveSite, Sketch, sketched
from lessonpress.desk.views.numbers import measure_json
from lessonpress.drawing import chart_svg, plan_svg, plate_svg, scale_bar_svg
from lessonpress.figures import (
    FIGURES,
    Begun,
    BoundLesson,
    Chart,
    Loop,
    NeededMark,
    Panel,
    Plate,
    ProgressFields,
    SurveyedClip,
    begin_lesson,
    clips_of,
    finish_lesson,
    needed_marks,
    numeral,
    survey_clip,
)
from lessonpress.manuscript import Clip, Lesson, Site, fenced, file_passage, read_lesson
from lessonpress.measure import Units
from lessonpress.records import Location, Problem, Problems

DRAFT = "draft"


@dataclass(frozen=True)
class Draft:
    """A block as a lesson of its own. above: how many of its lines come before the block's text."""

    lesson: Lesson
    above: int


def draft(live: LiveSite, asked: DrawDraft, follow: Callable[[str], BoundLesson | None]) -> dict[str, Any]:
    """What `POST /api/draft` answers. follow: a lesson by its name, for a chart over lessons.

    Raises RequestError.
    """
    problems = Problems()
    made = _lesson_of(asked.kind, asked.text, asked.clip, problems)
    site = _with(live.site(), asked.clip, asked.marks)
    films = films_of(live, site, made.lesson, problems)
    begun = begin_lesson(made.lesson, site, films, problems)
    others = {name: other for name in followed(begun) if (other := follow(name)) is not None}
    bound = finish_lesson(begun, others, site, problems)
    plate = bound.plates[0] if bound.plates else None
    entire = asked.crop == "whole"
    panels = _panels(plate, asked.frame) if plate else ()
    return {
        "panels": [
            _panel(panel, number, site.units, asked.width, entire) for number, panel in enumerate(panels)
        ],
        "drawing": _drawing(plate, asked.width, site.units) if plate else None,
        "points": _points(plate.chart, site.units) if plate and plate.chart else [],
        "loop": _loop(plate.loop) if plate and plate.loop else None,
        "alt": plate.alt if plate else "",
        "measures": [
            measure_json(measure, bound.colours.get(measure.id, "black"), site.units)
            for measure in bound.measures.values()
            if plate is not None and measure.id in plate.measures
        ],
        "wanted": wanted_json(needed_marks(made.lesson, site, films, Problems()), films, made.above),
        "description": plate.description if plate else "",
        "problems": [problem_json(one) for one in _of_draft(problems, made.above)],
    }


def wanted(live: LiveSite, lesson: Lesson) -> dict[str, Any]:
    """What `GET /api/lessons/NAME/wanted` answers."""
    site, problems = live.site(), Problems()
    films = films_of(live, site, lesson, problems)
    needed = needed_marks(lesson, site, films, problems)
    rows = wanted_json(needed, films, 0)
    gaps = [figure for one in rows if one["placed"] is None for figure in one["figures"]]
    figures = [
        {
            "id": _id_of(block.node, number),
            "numeral": numeral(number),
            "kind": block.kind,
            "line": block.line,
            "wanting": gaps.count(_id_of(block.node, number)),
        }
        for number, block in enumerate((block for block in lesson.blocks if block.kind in FIGURES), 1)
    ]
    return {"figures": figures, "wanted": rows}


def _id_of(node: Any, number: int) -> str:
    given = node.get("id") if node is not None else None
    return getattr(given, "written", None) or f"plate-{number}"


def films_of(
    live: LiveSite, site: Site, lesson: Lesson, problems: Problems
) -> Mapping[str, SurveyedClip | None]:
    """The clips of a lesson ready for its figures; None for those that cannot be used, which is reported."""
    films: dict[str, SurveyedClip | None] = dict.fromkeys(site.clips)
    for name in sorted(clips_of(lesson, site)):
        clip = site.clips[name]
        try:
            films[name] = _filmed(live, clip, site.units, problems)
        except RequestError as error:
            problems.error(Location(clip.path), error.reason, error.way_out)
    return films


def _filmed(live: LiveSite, clip: Clip, units: Units, problems: Problems) -> SurveyedClip | None:
    """The clip as it is on disk is kept filmed; one with unsaved marks is filmed for this once."""
    if clip is live.site().clips[clip.name]:
        return live.filmed(clip, problems)
    return survey_clip(clip, live.study(clip), units, problems, plausible=False, beside=live.beside(clip))


def wanted_json(
    needed: Iterable[NeededMark], films: Mapping[str, SurveyedClip | None], above: int
) -> list[dict[str, Any]]:
    """One entry for each mark on a frame, with the figures that need it, in their order."""
    order: dict[tuple[str, str, int], list[NeededMark]] = {}
    for one in needed:
        order.setdefault((one.clip, one.mark, one.frame), []).append(one)
    return [
        {
            "clip": clip,
            "mark": mark,
            "frame": frame,
            "figures": [one.figure for one in ones],
            "numerals": [numeral(number) for number, _ in groupby(one.number for one in ones)],
            "line": ones[0].location.line - above,
            "column": ones[0].location.column,
            "placed": _placed(films[clip], mark, frame),
        }
        for (clip, mark, frame), ones in order.items()
    ]


def _placed(filmed: SurveyedClip | None, mark: str, frame: int) -> str | None:
    if filmed is None:
        return None
    if mark in filmed.card.room:
        return "room" if mark in filmed.clip.marks else None
    seen = filmed.clip.by_mark_and_frame.get((mark, frame))
    return None if seen is None else "track" if seen.tracked else "hand"


def _lesson_of(kind: str, text: str, clip: str, problems: Problems) -> Draft:
    """The block as a lesson of its own, inside a fence longer than any in its text."""
    head = f"---\ntitle: Draft\ndate: {date.today().isoformat()}\nclip: {clip}\n---\n\n"
    lesson = read_lesson(DRAFT, file_passage(DRAFT, head + fenced(kind, text)), problems)
    if lesson is None:
        raise RequestError(400, f"`{clip[:40]}` is not a clip's name")
    return Draft(lesson, head.count("\n") + 1)


def _of_draft(problems: Problems, above: int) -> list[Problem]:
    """Those of the block, their lines counted in its text; those of other files as they are."""
    return [
        replace(one, location=replace(one.location, line=max(1, one.location.line - above)))
        if one.location.path == DRAFT
        else one
        for one in problems.in_order()
    ]


def _with(site: Site, clip: str, sketch: Sketch) -> Site:
    if clip not in site.clips:
        raise RequestError(404, f"there is no clip `{clip[:40]}`", "clips are folders of clips/")
    return replace(site, clips={**site.clips, clip: sketched(site.clips[clip], sketch)})


def followed(begun: Begun) -> tuple[str, ...]:
    """The lessons that its charts follow a number over, each once."""
    over = (one.fields.over for one in begun.planned if isinstance(one.fields, ProgressFields))
    return tuple(dict.fromkeys(name for names in over for name in names))


def _panels(plate: Plate, frame: int | None) -> tuple[Panel, ...]:
    """The panels at the frame; without one all of them, and of a loop its first picture, middle and last."""
    if frame is not None:
        return tuple(one for one in (plate.loop.panels if plate.loop else plate.panels) if one.frame == frame)
    if plate.loop is None:
        return plate.panels
    last = len(plate.loop.panels) - 1
    return tuple(plate.loop.panels[number] for number in sorted({0, last // 2, last}))


def _drawing(plate: Plate, width: float, units: Units) -> str | None:
    """What has no picture: a chart, or a plan."""
    if plate.chart is not None:
        return chart_svg(plate.chart, width, units, lambda on: f"{on:%-d %b %Y}")
    return plan_svg(plate.plan, width, units) if plate.plan is not None else None


def _points(chart: Chart, units: Units) -> list[dict[str, Any]]:
    return [
        {"label": one.label, "on": one.on.isoformat(), **measure_json(one.measure, "black", units)}
        for one in chart.points
    ]


def _loop(loop: Loop) -> dict[str, Any]:
    return {"pictures": len(loop.panels), "seconds": round(loop.seconds, 2), "slowed": loop.slowed}


def _panel(panel: Panel, number: int, units: Units, width: float, entire: bool) -> dict[str, Any]:
    """entire: over the whole picture as it was filmed, whatever the crop and the mirror of the figure."""
    if entire:
        panel = replace(panel, crop=(0.0, 0.0, float(panel.size[0]), float(panel.size[1])))
    mirrored = panel.mirrored and not entire
    return {
        "clip": panel.clip,
        "frame": panel.frame,
        "label": panel.label,
        "crop": list(panel.crop),
        "size": list(panel.size),
        "mirrored": mirrored,
        "svg": plate_svg(panel, width, ids_prefix=f"draft-{number}", mirrored=mirrored),
        "bar": scale_bar_svg(panel, width, units, mirrored=mirrored),
        "alt": panel.alt,
        "picture": f"/api/clips/{panel.clip}/pictures/{panel.frame}.webp",
    }
