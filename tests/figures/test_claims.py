"""The ids that a figure with mistakes would have given away."""

from __future__ import annotations

import pytest

from lessonpress.figures.plan.claims import ANY, by_block, by_measure, by_overlay, by_text
from lessonpress.figures.plan.fields import Shot
from lessonpress.manuscript.text.passage import file_passage
from lessonpress.manuscript.yaml import nodes
from lessonpress.records.instant import Instant
from lessonpress.records.problem import Problems

TOP = Instant("top", event="top")


def node(text: str) -> nodes.Mapping:
    made = nodes.compose_yaml(file_passage("lesson.md", text), Problems())
    assert isinstance(made, nodes.Mapping)
    return made


@pytest.mark.parametrize(
    ("kind", "suffixes", "names"),
    [
        ("frame", ("",), ["lean"]),
        ("strip", (".top", ".2"), ["lean.top", "lean.1", "lean.2", "lean.2"]),
        ("pair", (".first", ".second"), ["lean.first", "lean.second", "lean.difference"]),
    ],
)
def test_a_measure_has_a_name_for_each_picture(
    kind: str, suffixes: tuple[str, ...], names: list[str]
) -> None:
    shots = [Shot(TOP, ("at",), suffix=suffix) for suffix in suffixes]
    assert list(by_measure("lean", kind, shots)) == names


@pytest.mark.parametrize(
    ("written", "printed", "claimed"),
    [
        ("tilt: [navel, c7]\nas: lean\n", {"lean"}, {"lean"}),
        ("tilt: [navel, c7]\nas: Lean\n", {"lean"}, {"Lean", "lean"}),
        ("tilt: [navel, c7]\nas: lean\n", {"back"}, {"lean", ANY}),
        ("tilt: [navel, c7]\n", {"lean"}, set()),
        ("use: usual\n", set(), {ANY}),
        ("tilt:\n", set(), {ANY}),
    ],
)
def test_an_overlay_that_cannot_be_read_claims_its_id(
    written: str, printed: set[str], claimed: set[str]
) -> None:
    """ANY where the id may be any that the text prints."""
    assert set(by_overlay(node(written), printed)) == claimed


def test_a_figure_whose_list_cannot_be_read_may_give_away_anything() -> None:
    assert set(by_block(node("id: top\ndraw: navel\n"), {"top"})) == {"top", ANY}
    assert set(by_block(node("id: top\ndraw: [{shift: navel}]\n"), {"top"})) == {"top"}


def test_ids_in_broken_yaml_are_found_however_they_are_quoted() -> None:
    text = 'id: “top”\ndraw:\n  - {shift: navel, as: back}\n  - tilt: [a, b\n    as: "lean"\n'
    assert set(by_text(text)) == {"top", "back", "lean"}
