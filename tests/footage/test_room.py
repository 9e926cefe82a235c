"""What is seen without the mark as well is the room and not the mark."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np
import pytest

from lessonpress.footage.tracking.frame_store import FrameStore
from lessonpress.footage.tracking.room import belongs_to_room
from tests.footage.drawn import centres, developed, disc, surface

SIDE = 25
PLACES = {0: (80.0, 130.0), 9: (340.0, 130.0)}


@pytest.fixture
def store() -> Iterator[FrameStore]:
    """A disc at one place in picture 0 and at another in picture 9, before a patterned room."""
    rng = np.random.default_rng(4)
    room = surface(8)(*centres())
    shown = [
        (frame, developed(disc(room, at, 30, 0.0, surface(9)), 2.0, rng)) for frame, at in PLACES.items()
    ]
    with FrameStore(shown) as kept:
        yield kept


def test_a_patch_of_the_room_is_known_by_the_picture_with_the_mark_elsewhere(store: FrameStore) -> None:
    assert belongs_to_room(store, store[9], (210.0, 60.0), 0.99, PLACES, SIDE)


def test_a_patch_on_the_mark_is_not_the_room(store: FrameStore) -> None:
    assert not belongs_to_room(store, store[9], PLACES[9], 0.99, PLACES, SIDE)


def test_a_click_near_the_place_says_nothing_about_it(store: FrameStore) -> None:
    assert not belongs_to_room(store, store[9], (350.0, 130.0), 0.99, {9: PLACES[9]}, SIDE)
