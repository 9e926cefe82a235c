"""On the demo's rendered film a carried mark lies where the studio put it, by its own ±, or it is not given.

The truth is the studio's: the joints' places as its camera sees them (`tests/studio/truth`).
"""

from __future__ import annotations

import json
from functools import cache
from pathlib import Path
from typing import Any

import numpy as np
import pytest

from lessonpress.footage.tracking.tracking import Track, track_mark
from lessonpress.footage.video.index import read_index
from lessonpress.footage.video.pictures import take_pictures
from tests.footage.drawn import Floats, Picture

CLIP = "dune-face-on"
ROOT = Path(__file__).parents[2]
SURE = 3.0  # u per axis: beyond, a place is given with a confidence it has not earned


@cache
def truth() -> dict[str, Any]:
    found: dict[str, Any] = json.loads(
        (ROOT / "tests/studio/truth" / f"{CLIP}.json").read_text(encoding="utf-8")
    )
    return found


@pytest.fixture(scope="module")
def film() -> list[tuple[int, Picture]]:
    """The pictures from setup to impact."""
    path = ROOT / "content/clips" / CLIP / f"{CLIP}.mp4"
    events = truth()["events"]
    return list(take_pictures(path, read_index(path), range(events["setup"], events["impact"] + 1)))


def carried(film: list[tuple[int, Picture]], mark: str, *events: str) -> Track:
    """The mark carried from the first to the last of these events, placed by hand on each."""
    frames = [truth()["events"][event] for event in events]
    hand = {frame: tuple(truth()["px"][mark][frame]) for frame in frames}
    shown = [(frame, picture) for frame, picture in film if frames[0] <= frame <= frames[-1]]
    return track_mark(shown, mark, hand, frames[0], frames[-1])


def off(found: Track) -> Floats:
    """(n, 2) px from the truth, in the u of each row."""
    places = truth()["px"]
    return np.array(
        [np.subtract((row.x, row.y), places[row.mark][row.frame]) / (row.u or 1e-9) for row in found.rows]
    ).reshape(-1, 2)


def told(found: Track) -> set[int]:
    """Frames with a row, and frames of a gap that has a reason."""
    missing = [range(gap.first, gap.last + 1) for gap in found.gaps if gap.reason]
    return {row.frame for row in found.rows}.union(*missing)


@pytest.mark.parametrize(
    ("mark", "placed"),
    [
        ("implement-head", ("top", "impact")),
        ("implement-head", ("top", "delivery", "release", "impact")),
        ("implement-grip", ("top", "impact")),
    ],
)
def test_a_club_from_top_to_impact_is_where_it_is_or_not_given(
    film: list[tuple[int, Picture]], mark: str, placed: tuple[str, ...]
) -> None:
    """It crosses a brick wall, small and fast; the wall holds on to its patch where it does not."""
    found = carried(film, mark, *placed)
    hand = {truth()["events"][event] for event in placed}
    assert np.abs(off(found)).max(initial=0.0) < SURE, found.rows
    assert told(found) == set(range(min(hand), max(hand))) - hand


@pytest.mark.parametrize("mark", ["navel", "lead-hip", "c7", "lead-wrist"])
def test_a_body_mark_placed_at_every_event_is_where_it_is_or_not_given(
    film: list[tuple[int, Picture]], mark: str
) -> None:
    events = ("setup", "halfway", "top", "delivery", "release", "impact")
    found = carried(film, mark, *events)
    hand = {truth()["events"][event] for event in events}
    assert np.abs(off(found)).max(initial=0.0) < SURE
    assert told(found) == set(range(min(hand), max(hand))) - hand


@pytest.mark.parametrize(
    ("mark", "least"), [("lead-toe", 0.9), ("head", 0.8), ("trail-hip", 0.3), ("navel", 0.2)]
)
def test_what_can_be_followed_from_setup_to_top_is_given(
    film: list[tuple[int, Picture]], mark: str, least: float
) -> None:
    """A share of the frames between, so that refusing everything is not a way to be right."""
    found = carried(film, mark, "setup", "halfway", "top")
    events = truth()["events"]
    assert np.abs(off(found)).max() < SURE
    assert len(found.rows) >= least * (events["top"] - events["setup"] - 2)
