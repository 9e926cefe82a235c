"""Where tags go: properties that hold for any plate."""

from __future__ import annotations

import math
import tracemalloc
from collections.abc import Sequence
from itertools import combinations, permutations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from lessonpress.drawing.layout import Box
from lessonpress.drawing.tags import placing
from lessonpress.drawing.tags.ground import COVERED, LINE, Ground
from lessonpress.drawing.tags.placing import ASIDE, DROP, NEAR, Placed, Wanted, place_tags
from lessonpress.drawing.tags.tags import Lettering, lettering
from lessonpress.drawing.tags.taken import EDGE_GAP, TAG_GAP
from lessonpress.overlays.shapes import Tag
from tests.bench.placing import notes

ALPHABET = "ABCDEFGHJKLMNPQRSTUVWXYZ"
NARROW, WIDE = (360.0, 450.0), (640.0, 800.0)


def ground(size: tuple[float, float], busy: list[tuple[float, float]] | None = None) -> Ground:
    return Ground(*size, np.array(busy or [], dtype=np.float64).reshape(-1, 2))


def apart(one: Box, other: Box) -> float:
    """The larger of the gaps across and down between two boxes, negative where they overlap."""
    across = max(one[0], other[0]) - min(one[2], other[2])
    down = max(one[1], other[1]) - min(one[3], other[3])
    return max(across, down)


def fair(placed: tuple[Placed, ...], size: tuple[float, float]) -> None:
    """No tag within 4 px of another or 5 px of the edge."""
    for place in placed:
        left, top, right, bottom = place.box
        assert left >= EDGE_GAP - 1e-6 and top >= EDGE_GAP - 1e-6
        assert right <= size[0] - EDGE_GAP + 1e-6 and bottom <= size[1] - EDGE_GAP + 1e-6
    for one, other in combinations(placed, 2):
        assert apart(one.box, other.box) >= TAG_GAP - 1e-6


@st.composite
def plates(draw: st.DrawFn, most: int = 14) -> tuple[tuple[float, float], list[Wanted], Ground]:
    size = draw(st.sampled_from([NARROW, WIDE]))
    places = st.tuples(st.floats(0, size[0]), st.floats(0, size[1]))
    wanted = []
    for k in range(draw(st.integers(1, most))):
        anchor = draw(places)
        tag = Tag(
            anchor,
            "blue",
            words=draw(st.sampled_from(["", "head stays inside", "lead foot", "elbow in front of the hip"])),
            value=draw(st.sampled_from(["", "17.2 in", "29.2°"])),
            pm=draw(st.sampled_from(["", "±1.4"])),
        )
        on_line = draw(st.booleans())
        along = ((anchor[0], 20.0), (anchor[0], size[1] - 20.0)) if on_line else None
        wanted.append(Wanted(lettering(ALPHABET[k], tag), anchor, along))
    return size, wanted, ground(size, draw(st.lists(places, max_size=60)))


@settings(max_examples=60, deadline=None)
@given(plates())
def test_tags_keep_clear_of_each_other_and_of_the_edge(
    plate: tuple[tuple[float, float], list[Wanted], Ground],
) -> None:
    """Fourteen tags anywhere on a plate of a phone's width all find fair places."""
    size, wanted, on = plate
    fair(place_tags(wanted, on), size)


@settings(max_examples=30, deadline=None)
@given(plates())
def test_placing_is_deterministic_and_loses_no_letter(
    plate: tuple[tuple[float, float], list[Wanted], Ground],
) -> None:
    """The same plate gives the same places, every letter among them, in the order given."""
    _, wanted, on = plate
    placed = place_tags(wanted, on)
    assert placed == place_tags(wanted, on)
    assert [place.said.letter for place in placed] == [want.said.letter for want in wanted]


@settings(max_examples=30, deadline=None)
@given(plates())
def test_what_is_given_up_is_given_up_in_order(
    plate: tuple[tuple[float, float], list[Wanted], Ground],
) -> None:
    """A tag that has words still has its ±, and one that has its ± still has its value."""
    _, wanted, on = plate
    for want, place in zip(wanted, place_tags(wanted, on), strict=True):
        had = [run.role for run in want.said.runs]
        kept = [run.role for run in place.said.runs]
        assert kept == had[: len(kept)]


@settings(max_examples=20, deadline=None)
@given(st.tuples(st.floats(30, 330), st.floats(30, 420)))
def test_twenty_letters_at_one_point_all_find_room(anchor: tuple[float, float]) -> None:
    """Even where everything is at one place, letters are kept apart and in the frame."""
    wanted = [
        Wanted(lettering(letter, Tag(anchor, "black", words="here")), anchor) for letter in ALPHABET[:20]
    ]
    placed = place_tags(wanted, ground(NARROW))
    fair(placed, NARROW)
    assert len(placed) == 20


def test_a_picture_too_small_for_its_letters_still_shows_them_all() -> None:
    """On a picture of 60 px with twelve letters none is lost, though they cannot all be apart."""
    wanted = [Wanted(lettering(letter, Tag((30, 30), "black")), (30.0, 30.0)) for letter in ALPHABET[:12]]
    assert len(place_tags(wanted, ground((60.0, 60.0)))) == 12


def test_a_lone_tag_lies_by_its_anchor() -> None:
    """With nothing in the way a tag takes the nearest place, with a leader to its anchor."""
    (placed,) = place_tags(
        [Wanted(lettering("D", Tag((180, 200), "blue", value="29.2°")), (180.0, 200.0))], ground(NARROW)
    )
    assert placed.leader is not None
    assert math.dist(*placed.leader) <= 24
    assert placed.leader[0] == (180.0, 200.0)


def test_letters_on_close_lines_drop_by_turns() -> None:
    """Three lines 16 px apart: the second letter drops by 26 px, the third by 26 more."""
    wanted = [
        Wanted(lettering(letter, Tag((x, 40.0), "black", on_line=True)), (x, 40.0), ((x, 24.0), (x, 400.0)))
        for letter, x in (("A", 100.0), ("B", 116.0), ("C", 132.0))
    ]
    tops = [place.box[1] - 29 for place in place_tags(wanted, ground(NARROW))]
    assert tops == [0.0, DROP, 0.0]


def test_letters_on_lines_apart_stay_level() -> None:
    """Where lines are 30 px apart every letter is at its own anchor."""
    wanted = [
        Wanted(lettering(letter, Tag((x, 40.0), "black", on_line=True)), (x, 40.0), ((x, 24.0), (x, 400.0)))
        for letter, x in (("A", 100.0), ("B", 130.0))
    ]
    placed = place_tags(wanted, ground(NARROW))
    assert [place.box[1] for place in placed] == [29.0, 29.0]
    assert all(place.leader is None for place in placed)


def test_a_tag_goes_round_what_it_should_not_cover() -> None:
    """A tag beside a head is clear of it where there is room on another side."""
    head = (190.0, 150.0, 280.0, 250.0)
    want = Wanted(lettering("F", Tag((185, 200), "black", words="head")), (185.0, 200.0))
    (placed,) = place_tags([want], Ground(*NARROW, np.zeros((0, 2)), (head,)))
    assert apart(placed.box, head) >= 0


@pytest.mark.parametrize("size", [NARROW, WIDE])
@pytest.mark.parametrize("count", [40, 160, 640])
def test_crowded_plates_take_few_attempts(
    count: int, size: tuple[float, float], monkeypatch: pytest.MonkeyPatch
) -> None:
    """However many notes, the plate is begun anew only as often as the count of its doublings allows."""
    begun: list[int] = []

    class Counted(placing._Attempt):
        def __init__(self, choices: placing._Choices, said: Sequence[Lettering], *, last: bool) -> None:
            begun.append(len(said))
            super().__init__(choices, said, last=last)

    monkeypatch.setattr(placing, "_Attempt", Counted)
    wanted, on = notes(count, size)
    assert len(place_tags(wanted, on)) == count
    most = placing.PATIENCE * math.ceil(math.log2(1 + len(placing.ROLES) * count / placing.PATIENCE) + 1)
    assert 0 < len(begun) <= most


@settings(max_examples=30, deadline=None)
@given(st.lists(st.tuples(st.floats(-20, 379), st.floats(-20, 469)), max_size=80))
def test_points_under_tags_are_counted_to_the_px(points: list[tuple[float, float]]) -> None:
    """The map's count lies between those of boxes a px smaller and a px larger."""
    on = ground(NARROW, points)
    boxes = np.array([(40.0, 40.0, 140.0, 64.0), (5.3, 7.6, 27.1, 29.9), (300.0, 400.0, 355.0, 445.0)])
    told = on.cost_of_covering(boxes) / COVERED
    seen = [(x, y) for x, y in points if 0 <= x < 360 and 0 <= y < 450]
    for (left, top, right, bottom), count in zip(boxes, told, strict=True):

        def under(margin: float, box: tuple[float, ...] = (left, top, right, bottom)) -> int:
            return sum(
                box[0] - margin <= x <= box[2] + margin and box[1] - margin <= y <= box[3] + margin
                for x, y in seen
            )

        assert under(LINE - 1) <= count <= under(LINE + 1)


@settings(max_examples=40, deadline=None)
@given(st.floats(0, 2 * math.pi), st.integers(30, 120))
def test_a_leader_does_not_lie_along_the_stroke_that_it_names(way: float, long: int) -> None:
    """From an end of a stroke, or its middle, it leaves to the side, and does not go on where it ends."""
    end = (180.0 + long * math.cos(way), 225.0 + long * math.sin(way))
    line = [(180.0 + (end[0] - 180) * k / 20, 225.0 + (end[1] - 225) * k / 20) for k in range(21)]
    for anchor in ((180.0, 225.0), line[10], end):
        said = lettering("D", Tag(anchor, "blue", value="33.5 mph", pm="±1.8"))
        want = Wanted(said, anchor, ways=(math.degrees(way),))
        (placed,) = place_tags([want], ground(NARROW, line))
        assert placed.leader is not None
        (ax, ay), (bx, by) = placed.leader
        share = 12 / max(12.0, math.dist(*placed.leader))
        seen = (ax + share * (bx - ax), ay + share * (by - ay))
        assert min(math.dist(seen, point) for point in line) > LINE - 1  # lines are known to the px
        off = math.degrees(math.atan2(by - ay, bx - ax) - way)
        assert abs((off + 90) % 180 - 90) >= ASIDE - 1e-6


@pytest.mark.parametrize("beside", range(4, 64, 4))
def test_a_leader_keeps_as_far_from_other_tags_as_they_keep_from_each_other(beside: int) -> None:
    """A leader along a tag's edge looks like that tag's own."""
    arc = [(180 + 70 * math.cos(turn / 20), 225 - 70 * math.sin(turn / 20)) for turn in range(64)]
    anchors = [(180.0, 225.0), (180.0 + beside, 222.0), (180.0 + beside / 2, 232.0)]
    wanted = [
        Wanted(lettering(letter, Tag(at, "black", value="21.9 in", pm="±0.9")), at)
        for letter, at in zip("ABC", anchors, strict=True)
    ]
    placed = place_tags(wanted, ground(NARROW, arc))
    for one, other in permutations(placed, 2):
        assert one.leader is not None
        (ax, ay), (bx, by) = one.leader
        along = [(ax + k / 200 * (bx - ax), ay + k / 200 * (by - ay)) for k in range(201)]
        far = [point for point in along if math.dist(point, one.leader[0]) > NEAR]
        assert all(apart((*point, *point), other.box) > TAG_GAP - 1 for point in far)


@pytest.mark.parametrize("width", [190.0, 360.0])
def test_letters_keep_clear_of_the_head_and_of_signs(width: float) -> None:
    """Five letters that name a head 24 px wide and what is on it are all beside it, on leaders."""
    head = (width / 2 - 12, 60.0, width / 2 + 12, 84.0)
    anchors = [(width / 2 + dx, 72.0 + dy) for dx, dy in ((0, 0), (-8, 4), (8, -4), (0, 10), (4, 14))]
    wanted = [
        Wanted(lettering(letter, Tag(at, "black")), at) for letter, at in zip("ABCDE", anchors, strict=True)
    ]
    signs = np.array(anchors)
    placed = place_tags(wanted, Ground(width, 250.0, signs, (head,), signs))
    assert len(placed) == 5
    for place in placed:
        assert apart(place.box, head) >= 0
        assert all(apart(place.box, (*sign, *sign)) > 0 for sign in anchors)


def test_a_letter_on_a_line_lies_beside_the_head_that_the_line_runs_through() -> None:
    """A standing line through a head is lettered where the head is not."""
    head = (160.0, 20.0, 200.0, 60.0)
    want = Wanted(lettering("A", Tag((180.0, 40.0), "black")), (180.0, 40.0), ((180.0, 24.0), (180.0, 400.0)))
    (placed,) = place_tags([want], Ground(*NARROW, np.zeros((0, 2)), (head,)))
    assert placed.leader is None
    assert apart(placed.box, head) >= 0


def test_a_drawing_for_the_closest_view_needs_no_more_memory_than_a_page() -> None:
    """A picture of 3840 px at zoom 8: a map with a cell to each px took five thousand megabytes."""
    wide = Ground(30_720.0, 19_200.0, np.array([[15_000.0, 9_000.0]]))
    tracemalloc.start()
    over, beside = np.array([[14_990.0, 8_990, 15_010, 9_010], [20_000.0, 8_990, 20_020, 9_010]])[:, None]
    assert wide.cost_of_covering(over) > wide.cost_of_covering(beside) == 0
    assert list(wide.on_line(np.array([[15_000.0, 9_000], [15_100, 9_000]]))) == [True, False]
    assert tracemalloc.get_traced_memory()[1] < 200e6
    tracemalloc.stop()
