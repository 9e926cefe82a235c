"""What is suggested lies where the studio put it, by its own u, and nothing is suggested where no one is.

Truth is the studio's; the golfer is Shingle, of whom nothing was learnt (`tests/suggesting`). Pictures
without people are those that scikit-image ships.
"""

from __future__ import annotations

from collections.abc import Sequence
from functools import cache

import numpy as np
import pytest
import skimage.data

from lessonpress.footage.pose.bodymarks import SINGLE, SUGGESTED, places
from lessonpress.footage.pose.doubts import doubts
from lessonpress.footage.pose.learnt import Learnt, learnt_for, suggested_errors
from lessonpress.footage.pose.looks import MIRROR
from lessonpress.footage.pose.running import can_suggest
from lessonpress.footage.pose.sides import sided
from lessonpress.footage.pose.square import Square, reduced
from lessonpress.footage.pose.suggesting import NO_PERSON, NO_SIDES, NO_VIEW, Suggestion, suggest_marks
from lessonpress.records.mark import Observation
from lessonpress.records.view import VIEWS, View
from tests.studio.clip import STUDIO_CAMERA, seen
from tests.studio.draw import Picture, film_of
from tests.studio.room import Room
from tests.studio.swingers import SHINGLE

SURE = 3.0  # u per axis: beyond, a place is proposed with a confidence it has not earned
EVENTS = ("setup", "top", "impact")

networks = pytest.mark.skipif(not can_suggest(), reason="the extra `suggest` is not installed")


@cache
def film(view: View) -> tuple[list[Picture], dict[str, np.ndarray]]:
    drawn = film_of(SHINGLE, STUDIO_CAMERA, view)
    times = np.array([SHINGLE.events[event] for event in EVENTS])
    return list(drawn.pictures(times.tolist())), seen(drawn, times)


@cache
def suggested(view: View) -> list[Suggestion]:
    return list(suggest_marks(enumerate(film(view)[0]), view, SHINGLE.hand, SUGGESTED))


def alone(picture: Picture, view: View = "face-on") -> Suggestion:
    return next(suggest_marks([(0, picture)], view, "right", SUGGESTED))


def off(view: View) -> list[float]:
    """By how many of its own u each coordinate misses the truth."""
    places = film(view)[1]
    return [
        abs(error) / (row.u or 1e-9)
        for one in suggested(view)
        for row in one.rows
        for error in np.subtract((row.x, row.y), places[row.mark][one.frame])
    ]


@networks
def test_marks_of_a_golfer_seen_face_on_are_where_they_are() -> None:
    """Nearly all are given, so that refusing everything is not a way to be right."""
    assert [len(one.rows) for one in suggested("face-on")] >= [len(SUGGESTED) - 2] * len(EVENTS)
    assert max(off("face-on")) < SURE


@networks
def test_a_suggestion_carries_how_the_body_is_placed() -> None:
    """Each joint near the studio's: half a thigh off it would be another."""
    joints = [
        f"{side}-{part}"
        for part in ("shoulder", "hip", "knee", "elbow", "wrist", "ankle")
        for side in ("lead", "trail")
    ]
    setup, places = suggested("face-on")[0], film("face-on")[1]
    off = np.subtract(setup.body[: len(joints)], [places[joint][0] for joint in joints])
    assert len(setup.body) == 16 and np.linalg.norm(off, axis=1).max() < 50
    guide = setup.guide("navel")
    assert guide is not None and guide.body == setup.body


@networks
def test_down_the_line_only_marks_that_have_no_side_are_suggested() -> None:
    """The network can be wholly sure of the wrong side there."""
    given = {row.mark for one in suggested("down-the-line") for row in one.rows}
    assert given and given <= set(SINGLE)
    assert {one.missing["lead-hip"] for one in suggested("down-the-line") if one.rows} == {NO_SIDES}
    assert max(off("down-the-line")) < SURE


@networks
@pytest.mark.parametrize("name", ["coffee", "chelsea", "brick", "gravel", "coins"])
def test_nothing_is_suggested_where_no_person_is(name: str) -> None:
    picture = getattr(skimage.data, name)()
    shown = alone(np.stack([picture] * 3, axis=-1) if picture.ndim == 2 else picture[..., :3])
    assert (shown.rows, shown.why) == ((), NO_PERSON)


@networks
def test_nothing_is_suggested_in_an_empty_studio() -> None:
    assert alone(Room().picture(STUDIO_CAMERA)) == Suggestion(0, why=NO_PERSON)


def test_from_overhead_nothing_is_known() -> None:
    assert alone(np.zeros((40, 40, 3), np.uint8), "overhead") == Suggestion(0, why=NO_VIEW)


def test_a_point_of_a_square_is_found_again_where_it_was_cut_out() -> None:
    picture = np.zeros((400, 300, 3), np.uint8)
    picture[220:224, 130:134] = 255
    square = Square((120.0, 210.0), 128.0, turn=0.3, mirrored=True)
    small, scale = reduced(picture, square.side, 64)
    cut = square.cut(small, scale, 64)[..., 0].astype(float)
    rows, columns = np.nonzero(cut > cut.max() / 3)
    weight = cut[rows, columns]
    middle = np.array([np.average(columns + 0.5, weights=weight), np.average(rows + 0.5, weights=weight)])
    assert square.back(middle[None], 64)[0] == pytest.approx([132.0, 222.0], abs=0.6)


def body() -> np.ndarray:
    """(1, 33, 3): points of a body at random, seeded."""
    return np.random.default_rng(3).uniform(0, 300, (1, 33, 3))


@pytest.mark.parametrize("view", ["face-on", "down-the-line"])
def test_a_mirrored_golfer_has_mirrored_marks(view: View) -> None:
    """The mirror image of a right-handed swing is a left-handed one, and its lead side is the other."""
    by = {part: mark.by for part, mark in known(view).marks.items()}
    mirrored = body() * [-1, 1, 1]
    found, other = places(body(), "right", by), places(mirrored, "left", by)
    for mark, place in found.items():
        assert other[mark] == pytest.approx(place * [-1, 1])


def test_the_navel_lies_ahead_of_the_hips_and_c7_behind_the_shoulders_whichever_way_they_face() -> None:
    """The front of a body that stands upright and has turned to its left by 60° is to the picture's right."""
    by = {part: mark.by for part, mark in known("face-on").marks.items()}
    cos, sin = np.cos(np.radians(60)), np.sin(np.radians(60))
    points = np.zeros((1, 33, 3))
    points[..., :2] = 300, 100
    for left, right, y in ((11, 12, 200), (23, 24, 400)):
        points[0, left], points[0, right] = (
            (300 + side * 50 * cos, y, side * 50 * sin) for side in (1.0, -1.0)
        )
    found = places(points, "right", by)
    assert found["navel"][0, 0] > 305
    assert found["c7"][0, 0] < 295


def test_looks_that_take_left_for_right_are_put_right_by_the_feet() -> None:
    points = np.concatenate([body(), body()])
    for number, x in ((25, 200), (26, 100), (27, 210), (28, 90), (29, 205), (30, 95)):
        points[:, number, 0] = x
    points[1] = points[1][MIRROR]
    told = sided(points, 300.0, "face-on", "right")
    assert told.clear
    assert told.points[0] == pytest.approx(told.points[1])
    assert (told.points[:, 27, 0] > told.points[:, 28, 0]).all()


def test_feet_at_one_place_tell_no_sides() -> None:
    points = body()
    points[:, 25:31, 0] = 100
    assert not sided(points, 300.0, "face-on", "right").clear


def known(view: View) -> Learnt:
    learnt = learnt_for(view)
    assert learnt is not None
    return learnt


def found(*marks: tuple[str, float, float, float]) -> dict[str, Observation]:
    return {mark: Observation(mark, 0, x, y, u) for mark, x, y, u in marks}


OUTSIDE = "it would lie outside the picture"


@pytest.mark.parametrize(
    ("marks", "why"),
    [
        ([("navel", 100, 100, 5)], {}),
        ([("navel", -1, 100, 5)], {"navel": OUTSIDE}),
        ([("navel", 100, 100, 31)], {"navel": "it is not seen clearly enough"}),
        ([("lead-ankle", 100, 1290, 5), ("lead-knee", 100, 1200, 5)], {"lead-ankle": OUTSIDE}),
        (
            [("lead-ankle", 100, 700, 31), ("lead-knee", 100, 600, 5), ("trail-knee", 200, 600, 5)],
            {
                "lead-ankle": "it is not seen clearly enough",
                "lead-knee": "the lead ankle is not seen clearly enough",
            },
        ),
        (
            [("lead-hip", 100, 100, 5), ("lead-knee", 100, 400, 5)],
            {
                "lead-hip": "it would be too far from the lead-knee",
                "lead-knee": "it would be too far from the lead-hip",
            },
        ),
    ],
)
def test_what_cannot_be_is_not_suggested(
    marks: Sequence[tuple[str, float, float, float]], why: dict[str, str]
) -> None:
    assert doubts(found(*marks), known("face-on"), 600.0, (720, 1280)) == why


def test_errors_of_one_clip_are_known_to_go_together_where_marks_are_suggested() -> None:
    """The shoulders' go apart: the network sees them too near each other, or too far."""
    for view in VIEWS:
        told = suggested_errors(view)
        assert (told is None) == (learnt_for(view) is None)
        if told is not None:
            assert told.lasts > 0 and 0 < told.own < 1
            assert all(-1 <= r <= 1 for pair in told.pairs.values() for r in pair)
    across, along = suggested_errors("face-on"), suggested_errors("down-the-line")
    assert across is not None and max(across.pairs["shoulder"]) < -0.5
    assert along is not None and not along.pairs
