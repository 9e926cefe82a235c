"""A lesson says the same in inches and in centimetres, as filmed and turned about.

What is expected is worked out here: an inch is 2.54 cm (exactly, 1959), and a clock face seen from behind has
12:00 − t where it had t.
"""

from __future__ import annotations

import pytest

from lessonpress.figures.plates import BoundLesson, DrawnOverlay
from lessonpress.figures.words.printing import lettered, text_of
from lessonpress.overlays import Tag
from lessonpress.records import Reading, in_reading, other_readings
from tests.figures.drawn import lesson_of

BODY = """
It went {back}, which is {back:answer}.

```frame
id: impact
at: impact
alt: "It has gone {back:size}, at {arm}."
draw:
  - shift: navel
    as: back
    expect: 1..3 in away
    label: "back {back:value}"
  - tilt: [navel, c7]
  - grid
  - clock: [navel, c7]
    as: arm
    expect: 9:00..11:00
```
"""
OWN = Reading("in")
SWAPPED, TURNED, BOTH = other_readings("in")
CM_PER_INCH = 2.54


@pytest.fixture(scope="module")
def lesson(tmp_path_factory: pytest.TempPathFactory) -> BoundLesson:
    return lesson_of(tmp_path_factory.mktemp("site"), BODY)


def drawn(lesson: BoundLesson, kind: str) -> DrawnOverlay:
    return next(one for one in lesson.plates[0].panels[0].drawn if one.kind == kind)


def sentence(lesson: BoundLesson, kind: str, reading: Reading) -> str:
    one = drawn(lesson, kind)
    return in_reading(one.sentence, one.sentence_otherwise, reading)


def test_each_number_is_rounded_by_its_own_uncertainty(lesson: BoundLesson) -> None:
    measure = lesson.measures["back"]
    assert measure.value is not None and measure.uncertainty is not None
    inches, centimetres = lettered(measure, "in"), lettered(measure, "cm")
    assert inches is not None and centimetres is not None
    assert float(centimetres.number) == pytest.approx(abs(measure.value) * CM_PER_INCH, abs=0.05)
    assert float(centimetres.pm) == pytest.approx(measure.uncertainty * CM_PER_INCH, rel=0.06)
    assert float(inches.number) == pytest.approx(abs(measure.value), abs=0.05)


@pytest.mark.parametrize("reading", [OWN, SWAPPED, TURNED, BOTH])
def test_a_sentence_says_what_the_ledger_says(lesson: BoundLesson, reading: Reading) -> None:
    for name, kind in (("back", "shift"), ("arm", "clock")):
        number = lettered(lesson.measures[name], reading.units, turned=reading.turned)
        assert number is not None
        assert number.size in sentence(lesson, kind, reading)


@pytest.mark.parametrize("reading", [SWAPPED, TURNED, BOTH])
def test_a_tag_letters_what_the_ledger_says(lesson: BoundLesson, reading: Reading) -> None:
    number = lettered(lesson.measures["back"], reading.units)
    assert number is not None
    [tag] = [shape for shape in drawn(lesson, "shift").shapes if isinstance(shape, Tag)]
    text = dict(tag.otherwise).get(reading)
    said = (tag.value, tag.words) if text is None else (text.value, text.words)
    assert said == (number.value, f"back {number.value}")


def test_an_angle_is_the_same_for_every_reader(lesson: BoundLesson) -> None:
    assert drawn(lesson, "tilt").sentence_otherwise == ()


def test_a_clock_time_is_measured_anew_in_the_picture_turned_about(lesson: BoundLesson) -> None:
    measure = lesson.measures["arm"]
    assert measure.turned is not None
    assert measure.value is not None and measure.turned.value is not None
    assert (measure.value + measure.turned.value) % 360 == pytest.approx(0, abs=1e-9)
    assert measure.turned.uncertainty == pytest.approx(measure.uncertainty)
    assert measure.budget is not None and measure.turned.budget is not None
    assert measure.turned.budget.worked != measure.budget.worked


def test_a_grid_stays_where_it_was_drawn_and_says_so_in_other_units(lesson: BoundLesson) -> None:
    assert "every 12 in of" in sentence(lesson, "grid", OWN)
    assert "every 30.5 cm of" in sentence(lesson, "grid", SWAPPED)


def test_a_range_is_said_in_the_reader_s_units_and_for_the_side_that_is_seen(lesson: BoundLesson) -> None:
    back, arm = lesson.measures["back"], lesson.measures["arm"]
    assert text_of(back, "answer", OWN).endswith("1 to 3 in")
    assert text_of(back, "answer", SWAPPED).endswith("2.5 to 7.6 cm")
    assert text_of(arm, "answer", OWN).endswith("9:00 to 11:00")
    assert text_of(arm, "answer", TURNED).endswith("1:00 to 3:00")


def test_the_worked_formula_has_its_lengths_in_both_units(lesson: BoundLesson) -> None:
    budget = lesson.measures["back"].budget
    assert budget is not None
    assert " in" in budget.worked and " cm" not in budget.worked
    assert " cm" in budget.worked_otherwise and " in" not in budget.worked_otherwise


@pytest.mark.parametrize("reading", [SWAPPED, TURNED, BOTH])
def test_the_author_s_alt_text_has_its_numbers_for_every_reader(
    lesson: BoundLesson, reading: Reading
) -> None:
    plate = lesson.plates[0]
    back = lettered(lesson.measures["back"], reading.units)
    arm = lettered(lesson.measures["arm"], reading.units, turned=reading.turned)
    assert back is not None and arm is not None
    assert in_reading(plate.alt, plate.alt_otherwise, reading) == f"It has gone {back.size}, at {arm.size}."


def test_no_length_is_left_open_in_anything_that_is_printed(lesson: BoundLesson) -> None:
    assert "⟦" not in repr(lesson)
