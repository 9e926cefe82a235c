"""What a page holds for other choices of its reader."""

from __future__ import annotations

from lessonpress.pages.shown import attribute, in_readings, shown
from lessonpress.records import other_readings
from tests.pages import factory

SWAPPED, TURNED, BOTH = other_readings("in")


def test_a_length_is_there_twice_and_an_angle_once() -> None:
    length, angle = shown(factory.BACK, "in"), shown(factory.TILT, "in")
    assert length is not None and angle is not None
    assert str(length.value) == '<span class="in">4.0 in</span><span class="cm">10.2 cm</span>'
    assert str(angle.value) == "29.2°"


def test_a_refused_number_is_not_shown() -> None:
    assert shown(factory.refused(), "in") is None


def test_what_an_author_wrote_stays_text() -> None:
    assert str(in_readings("<b>", ((SWAPPED, "<i>"), (BOTH, "<i>")))) == (
        '<span class="in">&lt;b&gt;</span><span class="cm">&lt;i&gt;</span>'
    )
    assert str(attribute('"', "alt", ())) == 'alt="&#34;"'


def test_an_attribute_has_beside_it_what_it_says_for_others_and_none_of_it_twice() -> None:
    units = attribute("4 in", "alt", ((SWAPPED, "10 cm"), (BOTH, "10 cm")))
    assert str(units) == 'alt="4 in" data-alt-cm="10 cm"'
    both = attribute("a", "alt", ((SWAPPED, "b"), (TURNED, "c"), (BOTH, "d")))
    assert str(both) == 'alt="a" data-alt-cm="b" data-alt-turned="c" data-alt-cm-turned="d"'
