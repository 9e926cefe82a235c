"""A clubhead without its shaft: found where it is, by how it looks where it was clicked, and nothing else.

What is drawn is a bar before a room, so that its middle, its size and its grey level are known.
"""

from __future__ import annotations

import numpy as np
import pytest

from lessonpress.footage.tracking.club.backdrop import Backdrop
from lessonpress.footage.tracking.club.clock import clock_of
from lessonpress.footage.tracking.club.ends import Room, Spots
from lessonpress.footage.tracking.club.lone import Look, lone_spots, look_of
from lessonpress.footage.tracking.club.path import END_ON, MOST_LONE, Click, Seen, followed
from lessonpress.footage.tracking.club.places import places_of, ways_between
from lessonpress.records import Observation
from tests.footage.drawn import Floats

NOISE, REACH = 2.0, 120.0
TALL, WIDE = 140, 220
ROOM = np.full((TALL, WIDE), 150, np.float32)
BACKDROP = Backdrop(ROOM, 1.0, NOISE, np.zeros(ROOM.shape, np.uint8))
CLICKS = np.array([[60.0, 50.0], [150.0, 80.0]])


def picture(*bars: tuple[float, float, int, int, float], room: float = 150) -> np.ndarray:
    """A room with bars on it: each its middle, its width and height, px, and its grey level."""
    levels = np.full(ROOM.shape, room)
    for x, y, wide, tall, level in bars:
        levels[int(y - tall / 2) : int(y + tall / 2), int(x - wide / 2) : int(x + wide / 2)] = level
    noise = np.random.default_rng(4).normal(0, NOISE, ROOM.shape)
    return np.asarray(levels + noise, dtype=np.float32)


def look(levels: tuple[float, float] = (30, 30)) -> Look | None:
    heads = zip(CLICKS, levels, strict=True)
    clicks = [(place, picture((place[0], place[1], 24, 14, level))) for place, level in heads]
    return look_of(clicks, BACKDROP)


def found(levels: np.ndarray) -> Floats:
    known = look()
    assert known is not None
    return np.array([spot.middle for spot in lone_spots(levels, known, BACKDROP)]).reshape(-1, 2)


def test_it_is_found_where_it_is() -> None:
    assert found(picture((100, 70, 24, 14, 30))) == pytest.approx(np.array([[100.0, 70.0]]), abs=1.0)


def test_a_shaft_at_it_does_not_move_it() -> None:
    levels = picture((100, 70, 24, 14, 30), (100, 105, 4, 60, 40))
    assert found(levels) == pytest.approx(np.array([[100.0, 70.0]]), abs=1.0)


def test_a_shaft_alone_is_no_head() -> None:
    assert not len(found(picture((100, 70, 4, 80, 30))))


def test_what_is_less_dark_is_no_head() -> None:
    assert not len(found(picture((100, 70, 24, 14, 60))))


def test_a_head_before_a_limb_is_found_by_how_dark_it_is() -> None:
    """The limb stands out as well, and is as narrow."""
    levels = picture((100, 70, 30, 120, 80), (106, 70, 24, 14, 30))
    assert found(levels) == pytest.approx(np.array([[106.0, 70.0]]), abs=1.0)


def test_a_head_that_goes_on_beyond_the_picture_has_no_known_middle() -> None:
    assert not len(found(picture((WIDE - 6, 70, 24, 14, 30))))


def test_what_is_much_larger_is_no_head() -> None:
    assert not len(found(picture((100, 70, 44, 40, 30))))


def test_what_does_not_move_is_no_head() -> None:
    still = picture((100, 70, 24, 14, 30))
    known = look()
    assert known is not None
    assert not lone_spots(still, known, Backdrop(still, 1.0, NOISE, BACKDROP.golfer))


def test_of_two_clicks_one_may_have_it_before_a_limb() -> None:
    bars = [[(60, 50, 24, 14, 30)], [(144, 80, 30, 120, 80), (150, 80, 24, 14, 30)]]
    known = look_of([(place, picture(*one)) for place, one in zip(CLICKS, bars, strict=True)], BACKDROP)
    assert known is not None and len(known.askew) == len(CLICKS)


def test_where_it_looks_otherwise_at_one_of_two_clicks_nothing_is_looked_for() -> None:
    assert look((30, 145)) is None


def _alone(frame: int, rate: float) -> Seen:
    """A head that goes to the right by 3 px a step, with no shaft."""
    return Seen(frame, np.array([50.0 + 180 * frame / rate, 60.0]), None, 2.0, 2.0, like=True)


def _click(frame: int, rate: float, long: float) -> Click:
    head = np.array([50.0 + 180 * frame / rate, 60.0])
    return Click(frame, head - np.array([0.0, long]), head)


@pytest.mark.parametrize("rate", [60, 240])
@pytest.mark.parametrize(("long", "most"), [(0.1 * REACH, MOST_LONE), (2 * END_ON * REACH, 0)])
def test_heads_alone_are_followed_for_a_while_where_the_club_is_short(
    long: float, most: int, rate: int
) -> None:
    """A long club shows its shaft; of one that shows none for long, something else may have been followed. As
    long in time, however many pictures a second there are.
    """
    count = rate // 2
    frames = range(1, count)
    clock = clock_of(range(count + 1), [frame / rate for frame in range(count + 1)])
    seen = {frame: [_alone(frame, rate)] for frame in frames}
    way, _ = followed(_click(0, rate, long), _click(count, rate, long), frames, seen, REACH, clock)
    assert len(way) * 60 / rate == pytest.approx(most, abs=0.5)


@pytest.mark.parametrize(
    ("seen", "given"), [(range(1, 12), True), (range(1, 8), False), (range(5, 12), False)]
)
def test_heads_alone_are_believed_where_they_are_joined_both_ways(seen: range, given: bool) -> None:
    """Where the club was out of the picture the end of the grip, as dark as the head, was followed up to 43 u
    off, on films of Dune at 240 a second: nothing led to it, or nothing from it.
    """
    clock = clock_of(range(13), [frame / 60 for frame in range(13)])
    room = Room(REACH, 4.0, 1.0, 1.0, Spots(3.0, 0.0, np.inf), clock, end_on=True)
    clubs = {frame: [_alone(frame, 60)] for frame in seen}
    early, late = (_click(frame, 60, 0.1 * REACH) for frame in (0, 12))
    found = {}
    for way in ways_between(early, late, range(1, 12), clubs, room):
        found.update(places_of(way, clubs, room))
    assert any(isinstance(place, Observation) for place in found.values()) == given
