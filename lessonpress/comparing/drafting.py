"""The draft of a private lesson: the pairs, a sentence for each difference larger than its ±, a table of all.

All numbers are printed by their ids, so that they stay what is measured when a mark is moved afterwards.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from itertools import groupby
from textwrap import fill

from lessonpress.comparing.pairings import Pairing
from lessonpress.figures import SurveyedClip, bind_alone
from lessonpress.manuscript import Lesson, Site, file_passage, read_lesson, written
from lessonpress.overlays import event_words
from lessonpress.preflight import is_swallowed
from lessonpress.records import Measure, Problems

_INTRODUCTION = """\
In each pair the first picture is the swing of {lesson} and the second is yours, at one scale.
A difference counts only where it is larger than its ±; the others may be none.
"""
# A number beside one's own is easily taken for a target.
_CAUTION = """\
```caution
The swing beside yours is another body's. Do not force yours to its numbers: change little at a time, stop on
pain, and ask a licensed clinician before you train through it.
```
"""


_OF_THEIR_SIZE = "Lengths and speeds are as measured: a taller player's are larger for that alone."
_WIDTH = 110  # of a line of prose


@dataclass(frozen=True)
class Heading:
    """The front matter. addressee: whom it is for. address: the last part of its address."""

    name: str
    addressee: str
    address: str
    on: date


@dataclass(frozen=True)
class Draft:
    """text: the whole file. larger, measured: how many differences are larger than their ±, of how many."""

    text: str
    larger: int
    measured: int


def drafted(
    lesson: Lesson,
    heading: Heading,
    pairings: Sequence[Pairing],
    other: str,
    site: Site,
    films: Mapping[str, SurveyedClip | None],
    problems: Problems,
) -> Draft:
    """The draft. other: the clip that is held against the lesson's. problems: what measuring it brings up."""
    front = _front(lesson, heading)
    measures = _measured(heading.name, front, pairings, other, site, films, problems)
    said = {name: sentence for name in measures if (sentence := _sentence(name, measures[name]))}
    introduction = _INTRODUCTION.format(lesson=_linked(lesson))
    parts = [front, introduction, *_plates(pairings, other, said)]
    parts += [_table(pairings, measures), _CAUTION] if measures else [_CAUTION]
    return Draft("\n".join(parts), len(said), len(measures))


def _front(lesson: Lesson, heading: Heading) -> str:
    lines = {
        "title": f"{lesson.title}: your swing beside it",
        "date": heading.on.isoformat(),
        "summary": "The lesson's plates beside yours, and which differences are larger than their ±.",
        "for": heading.addressee,
    }
    said = "".join(f"{key}: {value if key == 'date' else written(value)}\n" for key, value in lines.items())
    return f"---\n{said}address: {heading.address}\ndraft: true\n---\n"


def _linked(lesson: Lesson) -> str:
    """The lesson by its title, which leads there where it may be led to."""
    title = "".join(f"\\{letter}" if letter in "\\`*_[]{}<>&" else letter for letter in lesson.title)
    return f"[{title}]({lesson.name}.md)" if not (lesson.withheld or lesson.private) else title


Sides = tuple[Measure, Measure, Measure]  # of the lesson's swing, of the other, the difference


def _measured(
    name: str,
    front: str,
    pairings: Sequence[Pairing],
    other: str,
    site: Site,
    films: Mapping[str, SurveyedClip | None],
    problems: Problems,
) -> dict[str, Sides]:
    """By id, what the pairs measure, each once where several plates have it."""
    blocks = "\n".join(one.pair(other) for one in pairings)
    bare = read_lesson(name, file_passage(f"lessons/{name}.md", f"{front}\n{blocks}"), problems)
    assert bare is not None
    bound = bind_alone(bare, site, films, problems).measures
    found: dict[str, Sides] = {}
    seen: set[object] = set()
    for one in (one for pairing in pairings for one in pairing.measured):
        first, second, difference = (bound.get(f"{one}.{side}") for side in ("first", "second", "difference"))
        if first is None or second is None or difference is None:
            continue
        same = (first.kind, first.words, first.marks, first.frames, first.clips)
        if same not in seen:
            seen.add(same)
            found[one] = (first, second, difference)
    return found


def _plates(pairings: Sequence[Pairing], other: str, said: Mapping[str, str]) -> Iterator[str]:
    """A heading for each instant, and under it the pairs with what is to be said of them."""
    for event, at_event in groupby(pairings, key=lambda one: one.event):
        yield f"## {event_words(event)}\n"
        for one in at_event:
            yield one.pair(other)
            yield from (_paragraph(said[name]) for name in one.measured if name in said)


def _sentence(name: str, sides: Sides) -> str:
    """What a difference says that is larger than its ±; "" for another, and for one that was refused."""
    first, _, difference = sides
    if difference.value is None or is_swallowed(difference):
        return ""
    words = first.words[:1].upper() + first.words[1:]
    held = f" Of what this lesson expects, yours is {{{name}.second:answer}}." if sides[1].answer else ""
    return (
        f"{words}: {{{name}.first}} in the lesson and {{{name}.second}} in your swing. The two are "
        f"{{{name}.difference:size}} apart, more than the ±.{held}"
    )


def _table(pairings: Sequence[Pairing], measures: Mapping[str, Sides]) -> str:
    """A row for each measure, those of one instant together."""
    rows = [
        "## All differences",
        "",
        "| measure | at | in the lesson | in your swing | the lesson less yours |",
    ]
    rows.append("|---|---|---|---|---|")
    named = [(pairing.event, name) for pairing in pairings for name in pairing.measured if name in measures]
    for event, name in named:
        first, second, difference = measures[name]
        less = " (may be none)" if is_swallowed(difference) else ""
        cells = [first.words, event_words(event)]
        cells += [_cell(f"{name}.first", first), _cell(f"{name}.second", second)]
        rows.append(f"| {' | '.join([*cells, _cell(f'{name}.difference', difference) + less])} |")
    if any(first.dimension in ("length", "speed") for first, _, _ in measures.values()):
        rows += ["", _OF_THEIR_SIZE]
    return "\n".join([*rows, ""])


def _paragraph(text: str) -> str:
    return fill(text, _WIDTH, break_long_words=False, break_on_hyphens=False) + "\n"


def _cell(name: str, measure: Measure) -> str:
    return "not measured" if measure.value is None else f"{{{name}}}"
