"""Two runs towards each other are believed where each can be checked, and where they agree."""

from __future__ import annotations

import numpy as np
import pytest

from lessonpress.footage.tracking.frame_store import FrameStore
from lessonpress.footage.tracking.joining import _row, _Vouched, carry_between
from lessonpress.footage.tracking.run import Step
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


@pytest.mark.parametrize(("frame", "x", "origin"), [(102, 2.0, 100), (108, 8.0, 110)])
def test_two_ways_are_blended_by_how_near_each_click_is(frame: int, x: float, origin: int) -> None:
    """One way says 0 px and the other 10; the row leans on the nearer click."""
    ways = [
        _Vouched(start, {frame: Step((place, 5.0), 0.5, 0.0)}, "")
        for start, place in ((100, 0.0), (110, 10.0))
    ]
    row = _row("navel", frame, 100, 110, ways)
    assert (row.x, row.y) == pytest.approx((x, 5.0))
    assert (row.origin, row.tracked) == (origin, True)
    assert row.u is not None and 0.5 < row.u < 2.0  # half a px each, and a share of what they differ by
