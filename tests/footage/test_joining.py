"""Two runs towards each other are believed where each can be checked, and where they agree."""

from __future__ import annotations

import numpy as np

from lessonpress.footage.frame_store import FrameStore
from lessonpress.footage.joining import carry_between
from tests.footage.drawn import H, W, centres, developed, disc, rolling, surface


def walking(frame: int) -> tuple[float, float]:
    return 100.0 + 4 * frame, H / 2


def test_a_run_that_contradicts_the_next_click_is_not_believed() -> None:
    """The second click is on the room, 60 px from the disc: neither way of carrying it is right for both."""
    hand = {0: walking(0), 20: (walking(20)[0], walking(20)[1] + 60)}
    with FrameStore(rolling(21, walking)) as store:
        found = carry_between(store, "a", hand, 0, 20, list(range(1, 20)))
    assert not found.rows
    assert set(found.why) == set(range(1, 20))


def test_a_body_mark_standing_still_between_clicks_that_move_is_lost() -> None:
    """What is at the first click does not stir; the joint is 80 px on at the second."""
    rng = np.random.default_rng(2)
    scene = disc(surface(5)(*centres()), (W / 2, H / 2), 30, 0.0, surface(6))
    hand = {0: (W / 2, H / 2), 20: (W / 2 + 80, H / 2)}
    with FrameStore((frame, developed(scene, 2.0, rng)) for frame in range(21)) as store:
        found = carry_between(store, "trail-shoulder", hand, 0, 20, list(range(1, 20)))
    assert not found.rows
    assert set(found.why) == set(range(1, 20))
