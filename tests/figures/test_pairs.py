"""Two pictures at one scale, and what differs between them."""

from __future__ import annotations

from pathlib import Path
from types import SimpleNamespace
from typing import Any

import pytest

from lessonpress.figures.bind.crop import RATIO
from lessonpress.figures.bind.pairs import crops, pictures_of
from tests.figures.drawn import lesson_of
from tests.pages.factory import measure

PAIR = "```pair\nid: two\nof: [{{at: {}}}, {{at: {}}}]\ndraw:\n  - tilt: [navel, c7]\n    as: lean\n```\n"


def filmed(scale: float | None, feet: dict[str, tuple[float, float]], size: tuple[int, int]) -> Any:
    """A clip as far as a pair's crops ask: px a metre, marks of feet, size of its pictures."""
    survey = SimpleNamespace(px_per_metre=lambda: scale, position=lambda at: feet[at.mark])
    return SimpleNamespace(survey=survey, sees=lambda mark, _: mark in feet, index=SimpleNamespace(size=size))


NEAR = filmed(400.0, {"lead-heel": (640.0, 1000.0)}, (1280, 1200))
FAR = filmed(200.0, {"lead-heel": (400.0, 600.0)}, (800, 720))
HULLS = [[(540.0, 300.0), (740.0, 1000.0)], [(360.0, 260.0), (440.0, 600.0)]]


def both(*sides: Any, hulls: Any = HULLS) -> list[tuple[float, float, float, float]]:
    made = crops([(side, 0) for side in sides], hulls)
    assert made is not None and len(made) == 2
    return list(made)


def test_both_crops_show_as_many_metres_and_stand_on_one_baseline() -> None:
    near, far = both(NEAR, FAR)
    for side in (0, 1):
        shown = [(box[side + 2] - box[side]) / scale for box, scale in ((near, 400), (far, 200))]
        assert shown[0] == pytest.approx(shown[1], abs=1 / 200)
    assert (near[3] - 1000) / 400 == pytest.approx((far[3] - 600) / 200, abs=1 / 200)


def test_both_crops_hold_their_hulls_and_lie_in_their_pictures() -> None:
    for (left, top, right, bottom), hull, film in zip(both(NEAR, FAR), HULLS, (NEAR, FAR), strict=True):
        assert all(left <= x <= right and top <= y <= bottom for x, y in hull)
        assert min(left, top) >= 0 and right <= film.index.size[0] and bottom <= film.index.size[1]


def test_where_there_is_room_both_are_four_to_five() -> None:
    wide = filmed(400.0, {"lead-heel": (2000.0, 3000.0)}, (4000, 4000))
    for left, top, right, bottom in both(wide, wide, hulls=[[(1900.0, 2300.0), (2100.0, 3000.0)]] * 2):
        assert (right - left) / (bottom - top) == pytest.approx(RATIO, abs=0.01)


def test_without_a_scale_there_are_no_crops_at_one_scale() -> None:
    assert crops([(NEAR, 0), (filmed(None, {}, (800, 720)), 0)], HULLS) is None


def test_a_difference_says_first_less_second_and_rests_on_both_pictures(tmp_path: Path) -> None:
    lesson = lesson_of(tmp_path, PAIR.format("setup", "impact"))
    first, second, less = (lesson.measures[f"lean.{one}"] for one in ("first", "second", "difference"))
    assert None not in (first.value, second.value, less.value)
    assert less.value == pytest.approx(first.value - second.value, abs=1e-6)  # type: ignore[operator]
    assert less.frames == (12, 252)
    assert less.words == f"{first.words}, first less second"
    assert pictures_of(less, lesson.measures) == (("dune", (12,)), ("dune", (252,)))


def test_larger_and_smaller_are_said_of_the_first(tmp_path: Path) -> None:
    """At impact the line leans far more than at setup, and the same way."""
    said = [
        lesson_of(tmp_path / at[0], PAIR.format(*at)).plates[0].remarks
        for at in (("setup", "impact"), ("impact", "setup"))
    ]
    assert [len(remarks) for remarks in said] == [1, 1]
    assert "the first is smaller by " in said[0][0]
    assert "the first is larger by " in said[1][0]


def test_what_does_not_differ_is_said_to_be_alike(tmp_path: Path) -> None:
    (remark,) = lesson_of(tmp_path, PAIR.format("setup", "setup")).plates[0].remarks
    assert remark.endswith(": not distinguishable at this uncertainty.")


def test_a_number_of_one_picture_rests_on_that_alone() -> None:
    assert pictures_of(measure(), {}) == (("dune-face-on", (12, 192)),)
