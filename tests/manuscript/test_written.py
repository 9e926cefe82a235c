"""A mapping is read into a model, and every mistake is reported at its own key or value."""

from __future__ import annotations

import pickle
from typing import Annotated, Literal

from pydantic import Field

from lessonpress.manuscript.fields.fieldtypes import Id, InstantText, LengthText, MarkName, Text, YesNo
from lessonpress.manuscript.fields.written import Written, read_fields
from lessonpress.manuscript.text.passage import file_passage
from lessonpress.manuscript.yaml.nodes import compose_yaml
from lessonpress.records.problem import Location, Problems, problem_text


class Circle(Written):
    centre: MarkName
    size: LengthText | None = None


class Ring(Written):
    ring: tuple[MarkName, MarkName]
    name: Annotated[Id | None, Field(alias="as")] = None
    label: Text | None = None
    at: InstantText | None = None
    side: Literal["lead", "trail"] = "lead"
    show: YesNo = True
    inner: tuple[Circle, ...] = ()
    weight: float | None = None


def reading(text: str) -> tuple[Ring | None, list[str]]:
    problems = Problems()
    ring = read_fields(Ring, compose_yaml(file_passage("ring.yaml", text), problems), problems)
    return ring, [problem_text(problem).split("\n")[0] for problem in problems.in_order()]


def test_a_sound_mapping_becomes_a_model_that_knows_its_places() -> None:
    ring, told = reading("ring: [navel, c7]\nas: hub\nat: impact - 2\ninner: [{centre: head, size: 9 in}]\n")
    assert told == []
    assert ring is not None
    assert (ring.ring, ring.name, ring.side) == (("navel", "c7"), "hub", "lead")
    assert ring.location_of("ring", 1) == Location("ring.yaml", 1, 15)
    assert ring.location_of("as") == Location("ring.yaml", 2, 5)
    assert ring.at is not None
    assert ring.at.location == Location("ring.yaml", 3, 5)
    assert ring.inner[0].location_of("size") == Location("ring.yaml", 4, 30)


def test_every_mistake_is_reported_in_one_run() -> None:
    _, told = reading(
        "ring: [navel]\nas: Hub\nlabl: x\nside: led\nshow: yes\ninner: [{center: head}, 3]\nweight: heavy\n"
    )
    assert told == [
        "ring.yaml:1:7: `ring` has too few entries; it takes 2",
        "ring.yaml:2:5: `Hub` is not an id; small letters, digits and hyphens, a letter first",
        "ring.yaml:3:1: there is no key `labl` here; the keys here are "
        "ring, as, label, at, side, show, inner, weight",
        "ring.yaml:4:7: `side` cannot be `led`; it is lead or trail",
        "ring.yaml:5:7: `show` cannot be `yes`; it is true or false",
        "ring.yaml:6:10: there is no key `center` here; the keys here are centre, size",
        "ring.yaml:6:25: `key: value` is expected here, not `3`; its keys are centre, size",
        "ring.yaml:7:9: a number is expected here, not `heavy`",
    ]


def test_a_mistake_in_a_key_that_may_be_left_out_costs_that_key_alone() -> None:
    ring, told = reading("ring: [navel, c7]\nas: Hub\nlabel: Hub\n")
    assert len(told) == 1
    assert ring is not None
    assert (ring.name, ring.label) == (None, "Hub")


def test_a_mistake_in_a_key_that_is_needed_makes_no_model() -> None:
    ring, told = reading("ring: navel\n")
    assert ring is None
    assert told == ["ring.yaml:1:7: a list is expected here, not `navel`; it takes 2, in brackets"]


def test_a_number_is_taken_as_text_the_way_it_was_written() -> None:
    ring, told = reading("ring: [navel, c7]\nlabel: 1.10\n")
    assert told == []
    assert ring is not None
    assert ring.label == "1.10"
    assert type(ring.label) is str


def test_a_measure_in_braces_where_text_is_expected_needs_quotes() -> None:
    _, told = reading("ring: [navel, c7]\nlabel: {navel-back:size}\n")
    assert told == [
        "ring.yaml:2:8: text is expected here, and braces begin a mapping; "
        'put quotes round it: `label: "{navel-back:size}"`'
    ]


def test_two_models_that_say_the_same_are_equal_wherever_they_were_written() -> None:
    one, _ = reading("ring: [navel, c7]\nat: top\n")
    other, _ = reading("\n\nat: top\nring: [navel, c7]\n")
    assert one == other
    assert hash(one) == hash(other)


def test_a_model_crosses_to_another_process_with_its_places() -> None:
    ring, _ = reading("ring: [navel, c7]\nas: hub\n")
    again = pickle.loads(pickle.dumps(ring))
    assert again == ring
    assert again.location_of("as") == Location("ring.yaml", 2, 5)
    assert again.location_of("as").source == "as: hub"


def test_a_model_made_by_the_program_needs_no_node() -> None:
    ring = Ring.model_validate({"ring": ["navel", "c7"], "inner": [{"centre": "head", "size": "9 in"}]})
    assert ring.node is None
    assert ring.inner[0].size is not None
    assert ring.inner[0].size.metres == 9 * 0.0254
