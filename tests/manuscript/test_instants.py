"""Instants are events, frames, times and timecodes, each plus or minus frames."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from lessonpress.manuscript.fields.instants import parse_instant
from lessonpress.manuscript.fields.invalid_value import InvalidValueError
from lessonpress.records.instant import Instant, Timecode

READ = [
    (Instant("impact", event="impact")),
    (Instant("96", frame=96)),
    (Instant("0", frame=0)),
    (Instant("1.60 s", seconds=1.6)),
    (Instant("2s", seconds=2.0)),
    (Instant("00:00:01:18", timecode=Timecode(0, 0, 1, 18))),
    (Instant("00:01:00;02", timecode=Timecode(0, 1, 0, 2, drop=True))),
    (Instant("impact - 2", event="impact", plus=-2)),
    (Instant("96 + 3", frame=96, plus=3)),
    (Instant("1.60 s - 1", seconds=1.6, plus=-1)),
    (Instant("00:00:01:18 + 4", timecode=Timecode(0, 0, 1, 18), plus=4)),
    (Instant("lead-arm-2", event="lead-arm-2")),
]


@pytest.mark.parametrize("expected", READ, ids=lambda instant: instant.text)
def test_an_instant_is_what_it_says(expected: Instant) -> None:
    assert parse_instant(expected.text) == expected


REFUSED = [
    ("address", "`address` is called setup here", "write `setup`"),
    ("address - 2", "`address` is called setup here", "write `setup - 2`"),
    ("-4", "`-4` lies before the first picture", "frames are counted from 0"),
    ("1.5", "`1.5` is not a frame", "frames are whole; for a time write `1.5 s`"),
    ("Top", "`Top` is not an event's name", "small letters only"),
    ("12:30:10", "`12:30:10` is not a timecode", "write hours:minutes:seconds:frames, `00:00:01:18`"),
    ("00:00:61:00", "`00:00:61:00` is not a timecode", "hours end at 23, minutes and seconds at 59"),
    ("1600 ms", "`1600 ms` is not an instant", "write the time in seconds, `1.60 s`"),
    ("99999999", "`99999999` lies past any clip", "frames end at 10000000"),
]


@pytest.mark.parametrize(("text", "wrong", "right"), REFUSED)
def test_what_is_no_instant_is_refused_with_the_way_out(text: str, wrong: str, right: str) -> None:
    with pytest.raises(InvalidValueError) as refused:
        parse_instant(text)
    assert (refused.value.wrong, refused.value.right) == (wrong, right)


@given(st.text(max_size=30))
def test_any_text_names_exactly_one_thing_or_is_refused(text: str) -> None:
    try:
        made = parse_instant(text)
    except InvalidValueError:
        return
    named = [made.event, made.frame, made.seconds, made.timecode]
    assert sum(part is not None for part in named) == 1
