"""What a tag says and how large it is."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from lessonpress.drawing.tags.placing import ROLES
from lessonpress.drawing.tags.tags import LETTER, PM, VALUE, WORDS, draw_tag, lettering
from lessonpress.overlays.shapes import Tag, TagText
from lessonpress.records import other_readings
from tests.drawing.reading import near, rendered

FULL = Tag((0.0, 0.0), "vermilion", words="pelvis", value="7.4 in", pm="±0.6")


def test_no_lettering_is_under_twelve_px() -> None:
    """Letter, value, ± and words are all at least 12 CSS px."""
    assert min(size for size, _ in (LETTER, VALUE, PM, WORDS)) >= 12


def test_a_tag_gives_up_words_then_pm_then_value() -> None:
    """The letter is what is left, in a cell of its own."""
    said = lettering("E", FULL)
    left = [[run.role for run in said.runs]]
    for role in ROLES:
        said = said.gives_up(role)
        left.append([run.role for run in said.runs])
    assert left == [["value", "pm", "words"], ["value", "pm"], ["value"], []]
    assert said.letter == "E"
    assert (said.width, said.height) == (20.0, 22.0)


def test_a_tag_with_text_is_24_px_high() -> None:
    """Its letter's cell is 20 wide, wider for two letters."""
    assert lettering("E", FULL).height == 24.0
    assert lettering("E", FULL).cell == 20.0
    assert lettering("AB", FULL).cell > 24.0


def test_a_tag_is_lettered_in_order() -> None:
    """Letter, value, ±, words: one order everywhere."""
    xml = draw_tag(lettering("E", FULL), (10.0, 20.0)).get_xml()
    said = [text for text in xml.itertext() if text.strip()]
    assert said == ["E", "7.4 in", "±0.6", "pelvis"]
    assert xml.attrib["transform"] == "translate(10,20)"
    assert [span.attrib["class"] for span in xml.iter("tspan")] == ["value", "pm", "words"]


@given(
    st.text("0123456789.± inABCW°", min_size=1, max_size=12), st.text("abcdefgMW ", min_size=1, max_size=30)
)
def test_the_text_stays_inside_its_tag(value: str, words: str) -> None:
    """The last piece ends before the tag's edge."""
    said = lettering("E", Tag((0, 0), "blue", words=words, value=value))
    ends = said.cell + sum(4 + run.width for run in said.runs)
    assert ends <= said.width - 3


@pytest.mark.parametrize(
    ("letter", "tag"), [("E", FULL), ("AB", FULL), ("H", Tag((0, 0), "sky", words="lead foot"))]
)
def test_nothing_of_a_tag_lies_outside_its_box(letter: str, tag: Tag) -> None:
    """Rendered, a tag covers its box and its half edge of ink, and no more."""
    said = lettering(letter, tag)
    drawn = draw_tag(said, (10.0, 10.0)).tostring().replace("<g ", '<g font-family="National Park" ', 1)
    changed = ~near(rendered(drawn, 260, 50, 4), "#808080", 4)
    rows, columns = changed.any(axis=1).nonzero()[0] / 4, changed.any(axis=0).nonzero()[0] / 4
    assert columns[0] >= 9.0
    assert columns[-1] <= 10 + said.width + 1
    assert rows[0] >= 9.0
    assert rows[-1] <= 10 + said.height + 1


def test_a_standing_lines_letter_is_ink_on_paper() -> None:
    """Its cell is not filled with a colour, so that it differs from a live line's without colour."""
    blank = lettering("A", Tag((0, 0), "black", on_line=True, blank=True))
    fills = [path.get("fill") for path in draw_tag(blank, (0, 0)).get_xml().iter("path")]
    assert fills == ["#FFFDF4"]


def test_a_tag_for_every_reader_is_as_wide_as_the_widest_and_keeps_to_what_it_names() -> None:
    """Each reading lies in a group of its class; the narrower one moves to the side of the pin."""
    swapped, _, both = other_readings("in")
    centimetres = TagText("", "118.8 cm", "±11.5")
    tag = replace(FULL, words="", otherwise=tuple((one, centimetres) for one in (swapped, both)))
    said = lettering("E", tag, every=True)
    narrow, wide = (said.width_of(runs) for _, runs in said.readings)
    assert narrow < wide == said.width
    for pin, moved in ((0.0, None), (said.width, f"translate({round(wide - narrow, 1):g})")):
        (upright,) = draw_tag(said, (10.0, 20.0), pin).get_xml()
        assert upright.get("class") == "upright"
        assert [(one.get("class"), one.get("transform")) for one in upright] == [("in", moved), ("cm", None)]


def test_a_tag_that_stands_alone_says_only_what_the_site_says() -> None:
    swapped, *_ = other_readings("in")
    tag = replace(FULL, otherwise=((swapped, TagText("", "18.8 cm", "±1.5")),))
    assert lettering("E", tag) == lettering("E", FULL)
