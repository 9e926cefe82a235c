"""Names and instants as a reader meets them."""

from __future__ import annotations

import pytest

from lessonpress.overlays.words import (
    Words,
    at_instant,
    event_words,
    from_instant,
    joined,
    since_instant,
    to_instant,
)
from lessonpress.records.instant import Instant, Timecode


@pytest.mark.parametrize(
    ("name", "words", "with_article"),
    [
        ("trail-hip", "trail hip", "the trail hip"),
        ("c7", "C7", "C7"),
        ("implement-head", "clubhead", "the clubhead"),
        ("implement-grip", "club grip", "the club grip"),
        ("wall-a", "wall a", "the wall a"),
        ("near-c7", "near C7", "the near C7"),
    ],
)
def test_a_mark_s_name_is_put_in_words(name: str, words: str, with_article: str) -> None:
    assert Words().mark(name) == words
    assert Words().the(name) == with_article


def test_a_site_about_bats_speaks_of_bats() -> None:
    words = Words(implement="bat", head="barrel")
    assert words.the("implement-head") == "the barrel"
    assert words.the("implement-grip") == "the bat grip"
    assert words.joint("lead-elbow", "lead-wrist", "implement-head") == ("lead wrist angle", "forearm to bat")


@pytest.mark.parametrize(
    ("first", "vertex", "second", "joint"),
    [
        ("lead-elbow", "lead-wrist", "implement-head", ("lead wrist angle", "forearm to shaft")),
        ("implement-head", "lead-wrist", "lead-elbow", ("lead wrist angle", "shaft to forearm")),
        ("lead-shoulder", "lead-elbow", "lead-wrist", ("lead elbow angle", "upper arm to forearm")),
        ("trail-hip", "trail-knee", "trail-ankle", ("trail knee angle", "thigh to shin")),
        ("lead-knee", "lead-ankle", "lead-toe", ("lead ankle angle", "shin to foot")),
        ("trail-elbow", "lead-wrist", "implement-head", None),  # the other arm's elbow
        ("lead-elbow", "lead-wrist", "lead-shoulder", None),  # no shaft
        ("lead-hip", "c7", "head", None),
    ],
)
def test_an_angle_of_a_joint_goes_by_the_joint_and_its_limbs(
    first: str, vertex: str, second: str, joint: tuple[str, str] | None
) -> None:
    assert Words().joint(first, vertex, second) == joint


@pytest.mark.parametrize(
    ("text", "spoken"),
    [
        ("click on lead-wrist, frame 29, across", "click on lead wrist, frame 29, across"),
        (
            "implement-head turns by 49° from picture to picture",
            "barrel turns by 49° from picture to picture",
        ),
        ("|C − c7|, C from the head", "|C − C7|, C from the head"),
        ("depth of lead-wrist-2 and of near-c7", "depth of lead-wrist-2 and of near-c7"),  # the author's own
    ],
)
def test_known_marks_in_a_text_are_put_in_words(text: str, spoken: str) -> None:
    assert Words(implement="bat", head="barrel").spoken(text) == spoken


@pytest.mark.parametrize(
    ("instant", "at", "short", "since"),
    [
        (Instant("setup", event="setup"), "at setup", "at setup", "since setup"),
        (Instant("top", event="top"), "at the top of the backswing", "at the top", "since the top"),
        (Instant("impact", event="impact"), "at impact", "at impact", "since impact"),
        (Instant("finish", event="finish"), "at the finish", "at the finish", "since the finish"),
        (Instant("delivery", event="delivery"), "at delivery", "at delivery", "since delivery"),
        (Instant("late-set", event="late-set"), "at late set", "at late set", "since late set"),
        (Instant("96", frame=96), "at frame 96", "at frame 96", "since frame 96"),
        (
            Instant("impact - 2", event="impact", plus=-2),
            "2 frames before impact",
            "2 frames before impact",
            "since 2 frames before impact",
        ),
        (
            Instant("top + 1", event="top", plus=1),
            "1 frame after the top",
            "1 frame after the top",
            "since 1 frame after the top",
        ),
        (
            Instant("1.60 s", seconds=1.6),
            "at 1.6 s of the file",
            "at 1.6 s of the file",
            "since 1.6 s of the file",
        ),
        (
            Instant("00:00:01;18", timecode=Timecode(0, 0, 1, 18, drop=True)),
            "at 00:00:01;18 of the file's timecode",
            "at 00:00:01;18 of the file's timecode",
            "since 00:00:01;18 of the file's timecode",
        ),
    ],
)
def test_an_instant_is_named_in_words(instant: Instant, at: str, short: str, since: str) -> None:
    assert at_instant(instant) == at
    assert at_instant(instant, short=True) == short
    assert since_instant(instant) == since


def test_a_path_runs_from_an_instant_to_another() -> None:
    assert from_instant(Instant("setup", event="setup")) == "from setup"
    assert to_instant(Instant("finish", event="finish")) == "to the finish"


def test_an_event_heads_a_panel_with_a_capital() -> None:
    assert event_words("late-set") == "Late set"


def test_names_are_joined_as_in_speech() -> None:
    assert [joined(list("abc"[:n])) for n in (0, 1, 2, 3)] == ["", "a", "a and b", "a, b and c"]
