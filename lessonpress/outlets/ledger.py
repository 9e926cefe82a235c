"""The ledger of a lesson as data: one object in JSON, the same names as columns in CSV.

Values are signed and unrounded, in the units that the lesson prints; what each name means is in the
handbook. A refused measure has null (in CSV an empty cell) for value and uncertainty, and says why.
"""

from __future__ import annotations

import csv
import io
import json
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import asdict
from typing import Any

from lessonpress.figures import BoundLesson
from lessonpress.pages import measures_path
from lessonpress.records import Measure

COLUMNS = (
    "id",
    "kind",
    "figure",
    "letter",
    "clips",
    "value",
    "uncertainty",
    "k",
    "low",
    "high",
    "unit",
    "axis",
    "way",
    "plane",
    "frames",
    "since",
    "marks",
    "assumed",
    "expect",
    "answer",
    "refused",
    "way_out",
)


def ledger_json(
    lesson: str, measures: Iterable[Measure], titles: Mapping[str, str], *, for_author: bool = False
) -> bytes:
    """measures.json: `{"lesson": NAME, "titles": {…}, "measures": [{…}, …]}`, UTF-8, a row a line.

    titles: the clips by their folders' names, as the rows name them, with what readers are shown for each.
    for_author: with what would narrow each number, which is of no use to who reads it.
    """
    of = authors_row_of if for_author else row_of
    rows = [json.dumps(of(measure), ensure_ascii=False, allow_nan=False) for measure in measures]
    body = ",\n  ".join(rows)
    name = json.dumps(lesson, ensure_ascii=False)
    listed = f"[\n  {body}\n]" if rows else "[]"
    called = json.dumps(titles, ensure_ascii=False)
    return f'{{"lesson": {name}, "titles": {called}, "measures": {listed}}}\n'.encode()


def ledger_csv(measures: Iterable[Measure]) -> bytes:
    """measures.csv: a head and one row a measure, lists joined by spaces, UTF-8, a dot for decimals."""
    written = io.StringIO(newline="")
    writer = csv.DictWriter(written, COLUMNS, lineterminator="\n")
    writer.writeheader()
    for measure in measures:
        writer.writerow({name: cell_of(value) for name, value in row_of(measure).items()})
    return written.getvalue().encode()


def row_of(measure: Measure) -> Mapping[str, Any]:
    return {name: getattr(measure, name) for name in COLUMNS}


def authors_row_of(measure: Measure) -> Mapping[str, Any]:
    """A row, and what would narrow its number: `[{"words": …, "uncertainty": …}, …]`, most first."""
    return {**row_of(measure), "narrower": [asdict(one) for one in measure.narrower]}


def cell_of(value: object) -> object:
    return " ".join(str(part) for part in value) if isinstance(value, tuple) else value


def ledger_files(lesson: BoundLesson) -> Iterator[tuple[str, bytes]]:
    """The measures of one lesson as data."""
    name, measures = lesson.lesson.name, lesson.measures.values()
    yield measures_path(lesson.lesson.folder, "json"), ledger_json(name, measures, lesson.titles)
    yield measures_path(lesson.lesson.folder, "csv"), ledger_csv(measures)
