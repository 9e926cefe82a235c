"""Timecodes name the frames that SMPTE ST 12-1 says they do."""

from __future__ import annotations

from fractions import Fraction
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from lessonpress.footage.timing.timecode import frame_number, frame_of, from_text, text_of, timecode_of
from lessonpress.footage.video.failure import FootageError
from lessonpress.footage.video.index import read_index
from lessonpress.records.instant import Timecode
from tests.footage.conftest import numbered
from tests.studio.film import encode

NTSC = Fraction(30000, 1001)

# SMPTE ST 12-1, drop-frame at 30000/1001; from memory, recomputed.
PUBLISHED = [
    (1799, "00:00:59;29"),
    (1800, "00:01:00;02"),
    (17981, "00:09:59;29"),
    (17982, "00:10:00;00"),
    (107892, "01:00:00;00"),
]


def code(text: str) -> Timecode:
    timecode = from_text(text)
    assert timecode is not None
    return timecode


@pytest.mark.parametrize(("frame", "text"), PUBLISHED)
def test_drop_frame_labels_are_those_of_the_standard(frame: int, text: str) -> None:
    assert text_of(timecode_of(frame, NTSC, drop=True)) == text
    assert frame_number(code(text), NTSC) == frame


@given(
    frame=st.integers(0, 24 * 107892 - 1),
    rate_and_drop=st.sampled_from(
        [
            (NTSC, True),
            (NTSC, False),
            (Fraction(60000, 1001), True),
            (Fraction(25), False),
            (Fraction(240), False),
        ]
    ),
)
def test_every_frame_has_a_label_that_leads_back_to_it(
    frame: int, rate_and_drop: tuple[Fraction, bool]
) -> None:
    rate, drop = rate_and_drop
    assert frame_number(timecode_of(frame, rate, drop), rate) == frame


def test_an_hour_of_drop_frame_keeps_pace_with_the_clock() -> None:
    """108 labels are left out in an hour, which leaves 3.6 ms."""
    assert float(frame_number(code("01:00:00;00"), NTSC) / NTSC) == pytest.approx(3600, abs=0.0037)


@pytest.mark.parametrize("text", ["00:01:00;00", "00:59:00;01"])
def test_a_label_that_drop_frame_leaves_out_is_refused_with_the_next_one(text: str) -> None:
    with pytest.raises(FootageError, match=f"write {text[:-2]}02"):
        frame_number(code(text), NTSC)


@pytest.mark.parametrize(
    ("text", "rate"), [("00:00:00:30", NTSC), ("00:60:00:00", NTSC), ("00:00:01;00", Fraction(25))]
)
def test_a_label_that_the_rate_does_not_have_is_refused(text: str, rate: Fraction) -> None:
    with pytest.raises(FootageError):
        frame_number(code(text), rate)


def test_a_timecode_counts_from_the_files_own_start_code(tmp_path: Path) -> None:
    coded = read_index(encode(tmp_path / "a.mov", numbered(45), timecode="01:00:00:10"))
    plain = read_index(encode(tmp_path / "b.mov", numbered(45)))
    assert frame_of(code("01:00:01:10"), coded) == 30
    assert frame_of(code("00:00:01:10"), plain) == 40
    assert frame_of(code("00:00:01:10"), coded) is None
