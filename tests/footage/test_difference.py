"""The curve of change suggests a swing's events, near enough to begin from."""

from __future__ import annotations

import pytest

from lessonpress.footage.camera.difference import picture_changes, proposed_events
from tests.footage.drawn import grey, swinging


@pytest.mark.parametrize("noise", [0.0, 2.0, 5.0])
def test_the_events_of_a_drawn_swing_are_proposed_within_a_few_frames(noise: float) -> None:
    found = proposed_events(picture_changes(enumerate(map(grey, swinging(noise=noise, still=12)))))
    assert found["setup"] == pytest.approx(11, abs=4)
    assert found["top"] == pytest.approx(59, abs=2)
    assert found["impact"] == pytest.approx(75, abs=5)
    assert 85 <= found["finish"] <= 108


def test_nothing_is_proposed_where_nothing_moves() -> None:
    pictures = list(swinging(noise=2.0, still=20))[:20]
    assert proposed_events(picture_changes(enumerate(map(grey, pictures)))) == {}


def test_change_is_given_in_grey_levels() -> None:
    (only,) = picture_changes(enumerate([grey(next(iter(swinging(noise=0.0))))] * 2))
    assert (only.frame, only.mean, only.most) == (1, 0.0, 0.0)
