"""Steps that bind a lesson to its clips: its panels measured, then its charts, references and labels."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace

from lessonpress.figures import (
    Begun,
    BoundLesson,
    Panel,
    Planned,
    Plate,
    ProgressFields,
    begin_lesson,
    check_complete,
    finish_lesson,
)
from lessonpress.manuscript import Lesson
from lessonpress.pages import LessonRow, emblem_measure, emblem_panel, lesson_row
from lessonpress.press.steps.clips import Films
from lessonpress.press.steps.reader import Reader
from lessonpress.press.steps.seen import Parts, SeenSite
from lessonpress.records import Location, Measure, Problem, Problems


@dataclass(frozen=True)
class Tally:
    """What the summary of a press counts of a lesson."""

    figures: int
    measures: int
    refused: int


def measured(reader: Reader, name: str) -> Begun:
    """A lesson with its panels measured. Of its plans only those of charts of other lessons are kept.

    A lesson's prose has no part in it: a word that is changed measures nothing again.
    """
    blocks, references = (reader.value("lesson", name, part) for part in ("blocks", "references"))
    lesson = replace(_head(reader, name), blocks=blocks, references=references)
    clips = sorted(reader.value("head", name, "clips") & frozenset(reader.value("names", "clips")))
    problems = _problems_of(
        reader, [(step, clip) for clip in clips for step in ("clip", "played", "plausible")]
    )
    begun = begin_lesson(lesson, SeenSite(reader), Films(reader), problems)
    reader.problems.extend(one for one in problems.collected if one is not _FAULTY)
    charts = tuple(figure for figure in begun.planned if figure.charts_lessons)
    return replace(begun, planned=charts)


def bound(reader: Reader, name: str) -> BoundLesson:
    begun: Begun = reader.value("measured", name)
    others = [other for figure in begun.planned for other in _over(figure)]
    pressed = Parts(reader, "pressed names")
    problems = _problems_of(reader, [("measured", other) for other in (name, *others) if other in pressed])
    made = finish_lesson(begun, _Others(reader), SeenSite(reader), problems)
    reader.problems.extend(one for one in problems.collected if one is not _FAULTY)
    return replace(made, lesson=reader.value("lesson", name))


_FAULTY = Problem(Location(""), "what this rests on holds a mistake, which is reported there")


def _problems_of(reader: Reader, sources: list[tuple[str, str]]) -> Problems:
    """Where to report: a chart with too little to show is no mistake of its own where another explains it."""
    faulty = [reader.faulty(step, of) for step, of in sources]
    return Problems([_FAULTY] if any(faulty) else [])


def _over(figure: Planned) -> tuple[str, ...]:
    return figure.fields.over if isinstance(figure.fields, ProgressFields) else ()


def whole(reader: Reader, name: str) -> None:
    """The last look: reported only where nothing else is wrong."""
    check_complete(reader.value("bound", name), reader.problems)


def tally(reader: Reader, name: str) -> Tally:
    lesson = shown(reader, name)
    refused = sum(measure.refused is not None for measure in lesson.measures.values())
    return Tally(len(lesson.plates), len(lesson.measures), refused)


def entry(reader: Reader, name: str) -> BoundLesson:
    """What lists show of a lesson: its head, the one number shown with it, and the picture with it."""
    lesson = numbered(reader, name)
    number, panel = emblem_measure(lesson), emblem_panel(lesson)
    plates = () if panel is None else (_plate_of(panel),)
    return BoundLesson(lesson.lesson, plates, {} if number is None else {number.id: number})


def _plate_of(panel: Panel) -> Plate:
    """A plate that is this picture and nothing else."""
    return Plate(
        id="",
        kind="frame",
        numeral="",
        line=0,
        panels=(panel,),
        caption="",
        caption_line=0,
        alt="",
        description="",
        mirrored=panel.mirrored,
        keys=(),
        measures=(),
    )


def number(reader: Reader, name: str) -> Measure | None:
    """The one number that lists show of a lesson."""
    measure: Measure | None = emblem_measure(reader.value("bound", name))
    return measure


def row(reader: Reader, name: str) -> LessonRow:
    """What lists of words show of a lesson."""
    return lesson_row(
        _head(reader, name), reader.value("number", name), reader.value("site.yaml", "", "units")
    )


def numbered(reader: Reader, name: str) -> BoundLesson:
    """A bound lesson without its prose, the one number shown with it the first of its measures."""
    lesson, first = shown(reader, name), reader.value("number", name)
    return lesson if first is None else replace(lesson, measures={first.id: first, **lesson.measures})


def shown(reader: Reader, name: str) -> BoundLesson:
    """A bound lesson without its prose: its plates and its measures."""
    plates, measures = (reader.value("bound", name, part) for part in ("plates", "measures"))
    return BoundLesson(_head(reader, name), plates, measures)


def _head(reader: Reader, name: str) -> Lesson:
    lesson: Lesson = reader.value("head", name, "lesson")
    return lesson


class _Others(Mapping[str, BoundLesson]):
    """The site's lessons by name, their panels measured."""

    def __init__(self, reader: Reader) -> None:
        self._reader, self._names = reader, Parts(reader, "pressed names")

    def __contains__(self, name: object) -> bool:
        return name in self._names

    def __getitem__(self, name: str) -> BoundLesson:
        if name not in self:
            raise KeyError(name)
        begun: Begun = self._reader.value("measured", name)
        return begun.bound

    def __iter__(self) -> Iterator[str]:
        return iter(self._names)

    def __len__(self) -> int:
        return len(self._names)
