from __future__ import annotations

from dataclasses import replace

import pytest

from lessonpress.manuscript.lesson.prose import Reference, Where
from lessonpress.pages.pictures import (
    Picture,
    PictureBook,
    Shot,
    emblem,
    emblem_measure,
    shot_of,
    squared,
    wanted_shots,
)
from lessonpress.pages.plates import thumb
from lessonpress.records.problem import Location
from tests.drawing import sample
from tests.pages import factory


def test_a_book_gives_the_files_of_a_shot_narrowest_first() -> None:
    shot = Shot("clip", 3, (0.0, 0.0, 8.0, 10.0))
    book = PictureBook({shot: [Picture("b", 800, 1000), Picture("a", 480, 600)]})
    assert [file.href for file in book.of(shot)] == ["a", "b"]
    assert book.of(Shot("clip", 4, shot.crop)) == ()


def test_every_shot_is_wanted_once_and_never_wider_than_its_crop() -> None:
    found = wanted_shots(factory.bound(factory.whole_lesson("one"), factory.whole_lesson("two")))
    assert len({want.shot for want in found}) == len(found)
    assert all(max(want.widths) <= want.shot.crop[2] - want.shot.crop[0] for want in found)


def test_a_crop_between_two_widths_is_wanted_at_its_own() -> None:
    found = wanted_shots(factory.bound(factory.whole_lesson()))
    plates = [want for want in found if want.shot.crop == (0.0, 0.0, 800.0, 1000.0)]
    assert {want.widths for want in plates} == {(480, 800)}


@pytest.mark.parametrize(
    ("crop", "widths"),
    [(320, (320,)), (569, (569,)), (600, (480, 600)), (1280, (480, 800, 1280)), (1400, (480, 800, 1280))],
)
def test_no_file_is_little_narrower_than_the_widest(crop: int, widths: tuple[int, ...]) -> None:
    lesson = factory.whole_lesson()
    panel = replace(factory.at_top(), crop=(0.0, 0.0, float(crop), 400.0))
    plate = replace(lesson.plates[0], panels=(panel,))
    found = wanted_shots(factory.bound(replace(lesson, plates=(plate,))))
    assert [want.widths for want in found if want.shot.crop == panel.crop] == [widths]


@pytest.mark.parametrize("focus", ["", "navel-back"])
def test_a_square_lies_inside_the_crop_of_its_panel(focus: str) -> None:
    panel = replace(factory.at_top(), crop=(100.0, 50.0, 700.0, 800.0))
    left, top, right, bottom = squared(panel, focus).crop
    assert right - left == bottom - top
    assert left >= 100
    assert top >= 50
    assert right <= 700
    assert bottom <= 800


def test_the_square_of_a_lesson_is_cut_around_its_one_number() -> None:
    found = emblem(factory.whole_lesson())
    assert found is not None
    assert found.event == "top"
    x, y = factory.MARKS["top"]["navel"]
    left, top, right, bottom = found.crop
    assert left < x < right
    assert top < y < bottom


def test_a_panel_with_nothing_drawn_is_cut_in_its_middle() -> None:
    assert squared(replace(factory.at_setup(), drawn=())).crop == (0.0, 100.0, 800.0, 900.0)


def test_obscured_marks_are_named_with_the_shot() -> None:
    panel = replace(factory.at_setup(), obscured=(((391.0, 276.0), 50.0),))
    lesson = factory.whole_lesson()
    plates = (replace(lesson.plates[0], panels=(panel,)), *lesson.plates[1:])
    found = wanted_shots(factory.bound(replace(lesson, plates=plates)))
    assert next(want for want in found if want.shot == shot_of(panel)).obscured == panel.obscured


def _reference(name: str, line: int, where: Where = "prose") -> Reference:
    return Reference(name, None, Location("lessons/pelvis.md", line), where)


@pytest.mark.parametrize(
    ("references", "found"),
    [
        ((), "navel-back"),
        ((_reference("spine-tilt", 20), _reference("navel-through", 30)), "spine-tilt"),
        ((_reference("navel-through", 12, "caption"), _reference("spine-tilt", 20)), "spine-tilt"),
        ((_reference("navel-through", 5, "lists"), _reference("spine-tilt", 20)), "navel-through"),
        ((_reference("head-speed", 5), _reference("spine-tilt", 20)), "spine-tilt"),
    ],
)
def test_lists_print_the_number_named_for_them_else_the_first_of_the_text(
    references: tuple[Reference, ...], found: str
) -> None:
    """head-speed was refused, so it is no number to print."""
    whole = factory.whole_lesson()
    lesson = replace(whole, lesson=replace(whole.lesson, references=references), named=whole.measures)
    measure = emblem_measure(lesson)
    assert measure is not None and measure.id == found


def test_a_square_is_as_wide_as_its_crop_wherever_that_lies() -> None:
    panel = replace(sample.panel_of(), crop=(100.0, 40.0, 500.0, 440.0))
    made = thumb(panel, PictureBook({}), "a")
    assert (made.width, made.height) == (400, 400)
