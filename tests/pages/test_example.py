"""An example shows what was written and, from the same text, what it presses to."""

from __future__ import annotations

from dataclasses import replace
from xml.etree.ElementTree import Element

from lessonpress.figures.plates import BoundLesson
from tests.pages import factory
from tests.pages.test_lesson import page_of, with_class, words_of

SOURCE = """\
It has moved {navel-back}, see {figure:top}, `{so}`.

```frame
id: top
at: top
```

```caution
Warm up & <stretch>.
```"""
BODY = f"Before.\n\n````example\n{SOURCE}\n````\n\nAfter.\n"
EXAMPLE = 12  # the file's line of the fence: the body begins in line 10


def example_lesson() -> BoundLesson:
    whole = factory.whole_lesson()
    [top] = [plate for plate in whole.plates if plate.id == "top"]
    figure = replace(factory.block("frame", EXAMPLE + 3), example=EXAMPLE)
    caution = replace(factory.block("caution", EXAMPLE + 8, "Warm up & <stretch>."), example=EXAMPLE)
    blocks = (factory.block("example", EXAMPLE, SOURCE), figure, caution)
    return replace(
        whole,
        lesson=factory.lesson("hips", BODY, blocks),
        plates=(replace(top, numeral="I", line=EXAMPLE + 3),),
    )


def part(name: str) -> Element:
    [found] = with_class(page_of(example_lesson()), name)
    return found


def test_the_source_is_shown_as_it_was_written() -> None:
    assert "".join(part("listing").itertext()) == SOURCE


def test_a_keyboard_reaches_the_source_which_has_a_name() -> None:
    listing = part("listing")
    assert (listing.get("tabindex"), listing.get("role")) == ("0", "group")
    named = [one for one in part("written").iter() if one.get("id") == listing.get("aria-labelledby")]
    assert [words_of(one) for one in named] == ["As written"]


def test_beside_it_are_its_numbers_its_plate_and_its_boxes() -> None:
    pressed = part("pressed")
    assert "It has moved 4.0 in ± 0.6 away from the target, see Plate I, {so}." in words_of(pressed)
    assert [plate.get("id") for plate in with_class(pressed, "plate")] == ["plate-top"]
    assert ["Warm up & <stretch>." in words_of(box) for box in with_class(pressed, "caution")] == [True]


def test_a_plate_of_an_example_is_not_lifted_into_the_opening() -> None:
    assert not with_class(part("opening"), "plate")


def test_text_before_and_after_an_example_is_parted_by_it() -> None:
    assert [words_of(run) for run in with_class(part("body"), "run")] == ["Before.", "After."]
