"""Letters and numerals of plates."""

from itertools import islice

import pytest

from lessonpress.figures.bind.lettering import Lettering, letters, numeral


def test_letters_leave_out_i_and_o_and_go_on_with_pairs():
    first = list(islice(letters(), 26))
    assert first[:9] == list("ABCDEFGHJ")
    assert first[23:] == ["Z", "AA", "AB"]
    assert not {"I", "O"} & set("".join(first))


def test_the_same_line_keeps_its_letter_through_a_lesson():
    lettering = Lettering()
    pelvis = ("shift", ("navel",), "level", "setup", None)
    head = ("shift", ("head",), "level", "setup", None)
    assert [lettering.letter(pelvis), lettering.letter(head), lettering.letter(pelvis)] == ["A", "B", "A"]


@pytest.mark.parametrize(
    ("number", "written"),
    # Roman numerals as on printed plates; common practice, no published source
    [(1, "I"), (4, "IV"), (9, "IX"), (14, "XIV"), (40, "XL"), (49, "XLIX"), (90, "XC"), (2026, "MMXXVI")],
)
def test_numerals(number, written):
    assert numeral(number) == written
