"""What becomes of a clip's tracks when marks are carried anew."""

from __future__ import annotations

import csv
from io import StringIO

from lessonpress.intake.carry import table
from lessonpress.records.mark import Observation


def rows_of(text: str) -> list[list[str]]:
    return list(csv.reader(StringIO(text)))


def tracked(mark: str, frame: int, x: float, u: float = 0.5) -> Observation:
    return Observation(mark, frame, x, 10.0, u, tracked=True)


def test_rows_of_the_marks_named_are_replaced_and_others_kept():
    kept = [tracked("c7", 3, 1.0), tracked("navel", 3, 2.0), tracked("navel", 4, 2.5)]
    rows = rows_of(table(kept, {"navel"}, [tracked("navel", 5, 3.0)]))
    assert rows[0] == ["mark", "frame", "x", "y", "u"]
    assert [row[:3] for row in rows[1:]] == [["c7", "3", "1.00"], ["navel", "5", "3.00"]]


def test_a_mark_that_was_lost_at_once_leaves_no_old_rows_behind():
    assert rows_of(table([tracked("navel", 3, 2.0)], {"navel"}, []))[1:] == []


def test_rows_are_sorted_by_mark_and_by_frame_as_numbers():
    rows = rows_of(table([], {"navel"}, [tracked("navel", 10, 1), tracked("navel", 9, 1)]))
    assert [row[1] for row in rows[1:]] == ["9", "10"]
