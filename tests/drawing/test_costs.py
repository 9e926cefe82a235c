"""What each cost of a place for a tag is for: a picture on which it alone decides.

Most pictures here are a strip so low that a letter has room only to the right and to the left of its anchor,
the right tried first, at each of placing.DISTANCES. A letter is 20 × 22 CSS px. Places along the strip are
told from the anchor. What lies at height BESIDE is under a letter there and not under its leader.
"""

from __future__ import annotations

import math
from collections.abc import Iterable

import numpy as np

from lessonpress.drawing.tags.ground import LINE, Ground
from lessonpress.drawing.tags.placing import ASIDE, Placed, Wanted, place_tags
from lessonpress.drawing.tags.tags import lettering
from lessonpress.overlays.shapes import Tag
from lessonpress.records import Point

HEIGHT, MIDDLE, BESIDE = 34.0, 17.0, 9.0
LONG = 200.0  # from the anchor to either end: all distances fit
SHORT = 41.0  # only the nearest place on each side fits


def points(xs: Iterable[float], y: float = BESIDE, *, anchor: float = 0.0) -> np.ndarray:
    return np.array([(anchor + x, y) for x in xs], dtype=np.float64).reshape(-1, 2)


def strip(
    half: float,
    beside: Iterable[float] = (),
    *,
    between: Iterable[float] = (),
    signs: Iterable[float] = (),
    body: Iterable[tuple[float, float]] = (),
) -> Ground:
    """A strip that reaches `half` to either side, with points of lines beside leaders and between anchor and
    letter, with signs, and with what of the body lies from one place to another.
    """
    lines = np.concatenate([points(beside, anchor=half), points(between, MIDDLE, anchor=half)])
    boxes = tuple((half + left, 5.0, half + right, 30.0) for left, right in body)
    return Ground(2 * half, HEIGHT, lines, boxes, points(signs, anchor=half))


def wanted(letter: str, anchor: Point, words: str = "", value: str = "", pm: str = "") -> Wanted:
    return Wanted(lettering(letter, Tag(anchor, "blue", words=words, value=value, pm=pm)), anchor)


def away(placed: Placed) -> float:
    """How far to the right of its anchor a letter lies on a strip, CSS px; negative to the left."""
    assert placed.leader is not None
    return placed.leader[1][0] - placed.leader[0][0]


def letter_on(ground: Ground) -> float:
    """Where one letter lies whose anchor is the middle of the strip."""
    (placed,) = place_tags([wanted("A", (ground.width / 2, MIDDLE))], ground)
    return away(placed)


def test_with_nothing_in_the_way_a_letter_lies_to_the_right() -> None:
    assert letter_on(strip(LONG)) == letter_on(strip(SHORT)) == 16


def test_a_point_of_a_line_under_a_tag_costs() -> None:
    assert letter_on(strip(SHORT, [26])) == -16


def test_a_sign_under_a_tag_costs_more_than_a_point_of_a_line() -> None:
    assert letter_on(strip(SHORT, [-30], signs=[26])) == -16


def test_a_part_of_the_body_under_a_tag_costs_more_than_three_points_of_lines() -> None:
    assert letter_on(strip(SHORT, [-32, -30, -28], body=[(20, 41)])) == -16


def test_a_px_between_tag_and_anchor_costs() -> None:
    """A point of a line is covered sooner than that the letter goes four times as far."""
    assert letter_on(strip(LONG, [26, 50, -26, -50])) == 16


def test_a_px_far_from_the_anchor_costs_twice() -> None:
    """A place at 62 px, 16 of them far, is dearer than one at 16 px over two points; else it would not be."""
    pairs = [x + dx for x in (26, 50, -26, -50) for dx in (-1, 1)]
    assert letter_on(strip(LONG, pairs)) == 16


def test_a_px_of_a_leader_over_a_line_costs() -> None:
    """The line runs between anchor and letter, under neither."""
    assert letter_on(strip(SHORT, between=[8])) == -16


def test_a_leader_along_a_line_costs_more_than_to_cover_three_points() -> None:
    """For most of its way from the anchor it would lie on the line."""
    assert letter_on(strip(SHORT, [-32, -30, -28], between=[7, 9, 10])) == -16


def test_a_leader_that_goes_on_in_its_strokes_direction_costs() -> None:
    """A stroke that ends at the anchor from the left, on a picture with room on every side."""
    want = Wanted(wanted("A", (200.0, 200.0)).said, (200.0, 200.0), ways=(0.0,))
    (placed,) = place_tags([want], Ground(400.0, 400.0, points(())))
    assert placed.leader is not None
    (ax, ay), (bx, by) = placed.leader
    assert ASIDE <= math.degrees(math.atan2(by - ay, bx - ax)) % 180 <= 180 - ASIDE


def test_a_leader_under_another_tag_costs_more_than_to_cover_the_body() -> None:
    """A lies to the right; past it B's leader would run under it, and on the left there is a head."""
    asked = [wanted("A", (LONG, MIDDLE)), wanted("B", (LONG + 5, MIDDLE))]
    first, second = place_tags(asked, strip(LONG, body=[(-200, -10)]))
    assert (away(first), away(second)) == (16, -16)


def test_another_tags_leader_under_a_tag_costs() -> None:
    """To the right of its anchor B would hide where A's leader begins."""
    asked = [wanted("A", (100.0, 100.0)), wanted("B", (70.0, 101.0))]
    first, second = place_tags(asked, Ground(400.0, 400.0, points(())))
    assert first.leader == ((100.0, 100.0), (116.0, 100.0))
    left, top, right, bottom = second.box
    assert not (left - LINE < 100 < right + LINE and top - LINE < 100 < bottom + LINE)
    assert math.dist(*(second.leader or ((0, 0), (0, 0)))) < 24


def test_words_are_given_up_sooner_than_laid_over_two_parts_of_the_body() -> None:
    """There is room for them, at more than they are worth."""
    assert kept_over(1, words="lead hip") == ["words"]
    assert kept_over(2, words="lead hip") == []


def test_an_uncertainty_is_given_up_only_over_three_parts_of_the_body() -> None:
    """The number itself is kept at any price."""
    assert kept_over(2, value="4.0 in", pm="±0.6") == ["value", "pm"]
    assert kept_over(3, value="4.0 in", pm="±0.6") == ["value"]


def kept_over(parts: int, **said: str) -> list[str]:
    """What a tag keeps on a strip all of which is covered by so many parts of the body."""
    ground = strip(LONG, body=[(-LONG, LONG)] * parts)
    (placed,) = place_tags([wanted("A", (LONG, MIDDLE), **said)], ground)
    return [run.role for run in placed.said.runs]
