"""YAML becomes nodes that know the line and column of each key and value."""

from __future__ import annotations

import yaml
from hypothesis import given
from hypothesis import strategies as st

from lessonpress.manuscript.text.passage import file_passage
from lessonpress.manuscript.yaml.nodes import Mapping, Scalar, compose_yaml
from lessonpress.records.problem import Location, Problems

TEXT = """\
video: dune.mp4
scale:
  - {between: [stick-top, stick-foot], length: 36 in}
  - length: 48 in
empty:
on: no
"""


def composed(text: str) -> Mapping:
    problems = Problems()
    node = compose_yaml(file_passage("clip.yaml", text), problems)
    assert problems.collected == []
    assert isinstance(node, Mapping)
    return node


def location(line: int, column: int) -> Location:
    return Location("clip.yaml", line, column)


def test_a_value_is_found_by_a_path_of_keys_and_indices() -> None:
    node = composed(TEXT)
    assert node.location_of("video") == location(1, 8)
    assert node.location_of("scale", 0, "between", 1) == location(3, 27)
    assert node.location_of("scale", 1, "length") == location(4, 13)


def test_a_path_that_goes_on_past_what_is_written_ends_at_the_deepest_there_is() -> None:
    node = composed(TEXT)
    assert node.location_of("scale", 0, "within") == location(3, 5)
    assert node.location_of("scale", 7) == location(3, 3)
    assert node.location_of("video", "codec") == location(1, 8)
    assert node.location_of("nothing") == location(1, 1)


def test_an_empty_value_lies_at_its_key() -> None:
    assert composed(TEXT).location_of("empty") == location(5, 1)


def test_a_key_has_a_place_of_its_own() -> None:
    assert composed(TEXT).key_location("scale") == location(2, 1)


def test_a_place_carries_its_line() -> None:
    assert composed(TEXT).location_of("video").source == "video: dune.mp4"


def test_plain_values_are_those_of_yaml_1_2_and_keys_are_text_as_written() -> None:
    plain = composed("on: no\n12: 12\n0x10: 12:30:10\n~: ~\n").plain
    assert plain == {"on": "no", "12": 12, "0x10": "12:30:10", "~": None}


def test_quotes_make_text_of_a_number() -> None:
    node = composed("a: '12'\nb: \"true\"\nc: !!str 12\nd: !!int '12'\n")
    assert node.plain == {"a": "12", "b": "true", "c": "12", "d": 12}


def test_an_alias_repeats_its_value() -> None:
    assert composed("a: &pair [1, 2]\nb: *pair\n").plain == {"a": [1, 2], "b": [1, 2]}


def test_places_are_right_after_line_separators_that_are_no_line_ends() -> None:
    node = composed("a: 'one\u2028two'\nb: 1\n")
    assert node.location_of("b") == location(2, 4)


def test_an_empty_text_is_a_scalar_without_value() -> None:
    for text in ("", "\n\n", "# only a comment\n"):
        node = compose_yaml(file_passage("a.yaml", text), Problems())
        assert isinstance(node, Scalar)
        assert node.value is None


def test_an_alias_inside_its_own_value_is_a_mistake() -> None:
    problems = Problems()
    assert compose_yaml(file_passage("a.yaml", "a: &a [*a]\n"), problems) is None
    assert "repeats a value" in problems.collected[0].wrong


simple = st.recursive(
    st.none()
    | st.booleans()
    | st.integers()
    | st.text(st.characters(codec="utf-8", categories=["L", "N", "P"])),
    lambda inner: (
        st.lists(inner, max_size=4)
        | st.dictionaries(st.from_regex(r"[a-z]{1,8}", fullmatch=True), inner, max_size=4)
    ),
    max_leaves=12,
)


@given(simple, st.booleans(), st.sampled_from(["'", '"']))
def test_what_a_yaml_library_writes_is_read_back(value: object, flow: bool, quote: str) -> None:
    """Against PyYAML's own writer, in quotes and with tags: without them it writes YAML 1.1, 08 for text."""
    text = yaml.safe_dump(
        {"value": value}, allow_unicode=True, default_flow_style=flow, default_style=quote, width=60
    )
    assert composed(text).plain == {"value": value}


@given(st.text(max_size=200))
def test_any_text_gives_a_node_or_a_problem_with_a_place_in_it(text: str) -> None:
    problems = Problems()
    node = compose_yaml(file_passage("a.yaml", text), problems)
    assert node is not None or problems.errors
    for problem in problems.collected:
        assert 1 <= problem.location.line <= text.count("\n") + 1
