"""The factors of the international yard and pound agreement of 1959: a yard is 0.9144 m, exactly."""

from __future__ import annotations

import pytest

from lessonpress.records.length import METRES_PER_INCH, METRES_PER_SECOND_PER_MPH, Length


def test_an_inch_is_a_thirty_sixth_of_a_yard() -> None:
    assert pytest.approx(0.9144, rel=1e-15) == METRES_PER_INCH * 36


def test_a_mile_an_hour_is_1760_yards_in_3600_seconds() -> None:
    assert pytest.approx(1760 * 0.9144 / 3600, rel=1e-15) == METRES_PER_SECOND_PER_MPH


def test_a_length_is_said_in_the_words_it_was_written_in() -> None:
    assert str(Length(0.9144, "36 in")) == "36 in"
