"""A frame whose picture is damaged is not an instant: it is reported where it is named."""

from __future__ import annotations

from dataclasses import replace

from lessonpress.figures.instants import frame_of_instant
from lessonpress.records.instant import Instant
from lessonpress.records.problem import Location, Problems
from tests.figures.films import index_of


def test_a_damaged_frame_is_reported_at_its_place_and_the_one_beside_it_is_good() -> None:
    index = replace(index_of(20, (320, 180)), damaged=(7, 8))
    problems = Problems()
    location = Location("lessons/hips.md", 12, 5)
    assert frame_of_instant(Instant("8", frame=8), {}, index, location, problems, "dune") is None
    (error,) = problems.errors
    assert error.location == location
    assert error.wrong == "`8` is frame 8, and that picture of the clip dune is damaged"
    assert frame_of_instant(Instant("9", frame=9), {}, index, location, problems, "dune") == 9
