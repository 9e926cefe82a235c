"""All measures of a site as data: `measures.csv`, `measures.jsonl`, and a schema that says what they mean.

A row a measure, the lessons newest first, each in the order of its ledger. JSON Lines: UTF-8, an object a
line (jsonlines.org). The schema is JSON Schema 2020-12 and describes one line.
"""

from __future__ import annotations

import csv
import io
import json
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from typing import Any

from lessonpress.manuscript import Lesson
from lessonpress.outlets.ledger import COLUMNS, cell_of, row_of
from lessonpress.pages import ALL_MEASURES
from lessonpress.records import Measure

UNITS = ("in", "cm", "deg", "mph", "m/s", "%")

_TEXT, _TEXT_OR_NONE = {"type": "string"}, {"type": ["string", "null"]}
_NUMBER_OR_NONE = {"type": ["number", "null"]}
_TEXTS = {"type": "array", "items": {"type": "string"}}
_OF_LESSON = ("lesson", "date", "title")
FIELDS: Mapping[str, tuple[Mapping[str, Any], str]] = {
    "lesson": (_TEXT, "name of the lesson's file, and of its folder under lessons/"),
    "date": ({"type": "string", "format": "date"}, "day of the lesson, ISO 8601"),
    "title": (_TEXT, "title of the lesson"),
    "id": (_TEXT, "id of the measure, one in its lesson"),
    "kind": (_TEXT, "overlay that measures it, such as shift; tempo for a tempo"),
    "figure": (_TEXT, "id of the figure that it is taken on"),
    "letter": (_TEXT, "letter on the plates, empty where it has none"),
    "clips": (_TEXTS, "folders of the clips that it rests on"),
    "value": (_NUMBER_OR_NONE, "in `unit`, signed, unrounded; null where it was refused"),
    "uncertainty": (
        _NUMBER_OR_NONE,
        "expanded, in `unit`: k times the standard uncertainty, or half of high − low; null where refused",
    ),
    "k": (_NUMBER_OR_NONE, "coverage factor; null where low and high bound 95 % instead"),
    "low": (_NUMBER_OR_NONE, "lower bound of 95 % in `unit`, after a Monte Carlo propagation"),
    "high": (_NUMBER_OR_NONE, "upper bound of 95 % in `unit`, after a Monte Carlo propagation"),
    "unit": (
        {"type": ["string", "null"], "enum": [*UNITS, None]},
        "inches, centimetres, degrees, miles an hour, metres a second or per cent; null for a tempo",
    ),
    "axis": (_TEXT_OR_NONE, "level, plumb or straight: along what a length is taken"),
    "way": (_TEXT, "the sign in words, such as away from the target; empty where there is none"),
    "plane": (_TEXT, "plane in which it is measured"),
    "frames": ({"type": "array", "items": {"type": "integer"}}, "pictures that it rests on, from 0"),
    "since": (_TEXT_OR_NONE, "instant that a shift or turn is counted from"),
    "marks": (_TEXTS, "marks that it is taken between"),
    "assumed": (_TEXTS, "what was assumed where the card says nothing"),
    "expect": (_TEXT_OR_NONE, "range that it is held against"),
    "answer": (_TEXT_OR_NONE, "whether it lies inside that range, at its edge or outside"),
    "refused": (_TEXT_OR_NONE, "why it was not measured; null for a number"),
    "way_out": (_TEXT_OR_NONE, "what would make it measurable"),
}


@dataclass(frozen=True)
class LessonMeasures:
    """A lesson with its measures by id, in the order of its ledger."""

    lesson: Lesson
    measures: Mapping[str, Measure]


def measures_files(lessons: Iterable[LessonMeasures]) -> Iterator[tuple[str, bytes]]:
    """(path, bytes) of the measures in both forms, and of their schema."""
    rows = [
        {"lesson": one.lesson.name, "date": one.lesson.date.isoformat(), "title": one.lesson.title}
        | dict(row_of(measure))
        for one in lessons
        for measure in one.measures.values()
    ]
    yield f"{ALL_MEASURES}.csv", _csv(rows)
    lines = [json.dumps(row, ensure_ascii=False, allow_nan=False) for row in rows]
    yield f"{ALL_MEASURES}.jsonl", "".join(f"{line}\n" for line in lines).encode()
    yield f"{ALL_MEASURES}.schema.json", schema()


def schema() -> bytes:
    """What each field means, with its unit."""
    said = {name: {**kind, "description": words} for name, (kind, words) in FIELDS.items()}
    written = {
        "$schema": "https://json-schema.org/draft/2020-12/schema",
        "title": "A measure of a swing, a line of measures.jsonl or a row of measures.csv",
        "description": "In CSV null is an empty cell, and lists are joined by spaces.",
        "type": "object",
        "properties": said,
        "required": list(FIELDS),
        "additionalProperties": False,
    }
    return (json.dumps(written, ensure_ascii=False, indent=1) + "\n").encode()


def _csv(rows: Iterable[Mapping[str, Any]]) -> bytes:
    written = io.StringIO(newline="")
    writer = csv.DictWriter(written, (*_OF_LESSON, *COLUMNS), lineterminator="\n")
    writer.writeheader()
    for row in rows:
        writer.writerow({name: cell_of(value) for name, value in row.items()})
    return written.getvalue().encode()
