"""When events happen, how long the parts of a swing last, and their ratio.

The clip has 30 pictures a second: setup on 12, top on 192 and impact on 252, so 6 s back and 2 s down. An
event is good to half a picture: u = (1/60 s)/√3 (JCGM 100:2008, 4.3.7, rectangular), ± = 2 u.
"""

from __future__ import annotations

import math
from pathlib import Path

import pytest

from tests.figures.drawn import CARD, SCALE, lesson_of, told_of

FRAME = "```frame\nat: impact\n```\n"
PM = 2 * (1 / 60) / math.sqrt(3)


def test_events_are_given_in_their_order_with_what_half_a_picture_is(tmp_path: Path) -> None:
    (facts,) = lesson_of(tmp_path, FRAME).clips
    assert [(one.name, one.frames) for one in facts.events] == [
        ("setup", (12,)),
        ("top", (192,)),
        ("impact", (252,)),
    ]
    assert [one.seconds for one in facts.events] == pytest.approx([0.4, 6.4, 8.4])
    assert [one.pm for one in facts.events] == pytest.approx([PM] * 3)


def test_parts_last_from_event_to_event_with_both_ends_uncertainty(tmp_path: Path) -> None:
    (facts,) = lesson_of(tmp_path, FRAME).clips
    assert [(one.name, one.frames) for one in facts.parts] == [
        ("backswing", (12, 192)),
        ("downswing", (192, 252)),
    ]
    assert [one.seconds for one in facts.parts] == pytest.approx([6.0, 2.0])
    assert [one.pm for one in facts.parts] == pytest.approx([math.sqrt(2) * PM] * 2)


def test_a_part_without_one_of_its_events_is_left_out(tmp_path: Path) -> None:
    card = CARD.replace("top: 192, ", "") + SCALE
    (facts,) = lesson_of(tmp_path, FRAME, card=card).clips
    assert facts.parts == ()
    assert [one.name for one in facts.events] == ["setup", "impact"]


def test_tempo_is_backswing_by_downswing(tmp_path: Path) -> None:
    tempo = lesson_of(tmp_path, "The swing is {tempo}.\n").measures["tempo"]
    assert tempo.value == pytest.approx(3.0)
    assert tempo.refused is None


def test_setup_is_taken_for_the_start_only_where_the_card_names_no_start(tmp_path: Path) -> None:
    """From 72 on it is 4 s back."""
    card = CARD.replace("{setup: 12, ", "{setup: 12, start: 72, ") + SCALE
    lesson = lesson_of(tmp_path, "The swing is {tempo}.\n\n" + FRAME, card=card)
    assert lesson.measures["tempo"].value == pytest.approx(2.0)
    assert lesson.clips[0].parts[0].frames == (72, 192)


@pytest.mark.parametrize(
    ("events", "wanting"),
    [
        ("setup: 12, impact: 252", "top"),
        ("top: 192, impact: 252", "start"),
        ("setup: 12, top: 192", "impact"),
    ],
)
def test_tempo_names_the_event_that_it_wants(events: str, wanting: str, tmp_path: Path) -> None:
    card = CARD.replace("setup: 12, top: 192, impact: 252", events) + SCALE
    told = told_of(tmp_path, "The swing is {tempo}.\n", card=card)
    assert told.startswith(
        f"lessons/lesson.md:6:14: `{{tempo}}` is not measured: the clip dune has no event {wanting}; "
    )


def test_tempo_is_in_the_ledger_only_where_the_text_prints_it(tmp_path: Path) -> None:
    assert "tempo" not in lesson_of(tmp_path, FRAME).measures


def test_a_camera_that_the_card_calls_still_is_said_to_have_stood(tmp_path: Path) -> None:
    (facts,) = lesson_of(tmp_path, FRAME).clips
    assert (facts.camera, facts.repeated, facts.lens) == ("stood still, by the card", 0, "")
