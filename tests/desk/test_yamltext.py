"""An edit changes its own value and no other character; what it means is checked by another YAML reader."""

from __future__ import annotations

import random
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from ruamel.yaml import YAML

from lessonpress.desk.files.yamltext import ABSENT, UneditableError, edited, value_at
from lessonpress.manuscript import written

TEXT = """\
# head
navel:            # the belt buckle
  12: [640.20, 401.0]   # seen well
  # before the next
  192: [612.5, 398.2, 0.8]

# c7 is hard
c7: {12: [1, 2]}
room:
  - [a, b]   # x
  - [c, d]
empty:
tail: 3 # t
"""


def _lines_changed(after: str) -> tuple[list[str], list[str]]:
    before, now = TEXT.splitlines(), after.splitlines()
    return [line for line in before if line not in now], [line for line in now if line not in before]


CASES: dict[str, tuple[tuple[str | int, ...], Any, list[str], list[str]]] = {
    "a value is put in the place of another": (
        ("navel", "12"),
        [1.5, 2.0],
        ["  12: [640.20, 401.0]   # seen well"],
        ["  12: [1.5, 2.0]   # seen well"],
    ),
    "a frame stands by its number": (("navel", "100"), [3, 4], [], ["  100: [3, 4]"]),
    "a key is added to braces": (
        ("c7", "13"),
        [3, 4],
        ["c7: {12: [1, 2]}"],
        ["c7: {12: [1, 2], 13: [3, 4]}"],
    ),
    "a list is added to": (("room", 2), ["e", "f"], [], ["  - [e, f]"]),
    "a key without a value gets one": (("empty",), "5 ft 10 in", ["empty:"], ["empty: 5 ft 10 in"]),
    "a mapping begins": (("events", "top"), 96, [], ["events: {top: 96}"]),
    "a list begins": (("scale", 0), {"length": "36 in"}, [], ["scale:", "  - {length: 36 in}"]),
    "a comment outlives what it stood by": (
        ("navel", "12"),
        ABSENT,
        ["  12: [640.20, 401.0]   # seen well"],
        ["  # seen well"],
    ),
    "the last entry takes its key along": (("c7", "12"), ABSENT, ["c7: {12: [1, 2]}"], []),
    "what is not there is not taken away": (("nothing", "here"), ABSENT, [], []),
}


@pytest.mark.parametrize("case", CASES.values(), ids=CASES)
def test_an_edit_changes_the_lines_it_must(
    case: tuple[tuple[str | int, ...], Any, list[str], list[str]],
) -> None:
    path, value, gone, come = case
    assert _lines_changed(edited(TEXT, path, value)) == (gone, come)


def test_a_file_of_comments_and_an_empty_one_can_be_begun() -> None:
    assert (
        edited("# only words\n", ("navel", "12"), [1, 2], blocks=2) == "# only words\nnavel:\n  12: [1, 2]\n"
    )
    assert edited("", ("navel", "12"), [1, 2], blocks=2) == "navel:\n  12: [1, 2]\n"


def test_line_endings_and_the_byte_order_mark_stay() -> None:
    assert (
        edited("\ufeffa:\r\n  1: [1, 2]\r\n", ("a", "2"), [3, 4])
        == "\ufeffa:\r\n  1: [1, 2]\r\n  2: [3, 4]\r\n"
    )


@pytest.mark.parametrize("text", ["a: [1", "a: 'x", "a: b: c", "\tx: 1"])
def test_what_is_no_yaml_is_not_edited(text: str) -> None:
    with pytest.raises(UneditableError):
        edited(text, ("a",), 1)


def test_a_shared_value_is_not_changed_behind_its_other_name() -> None:
    with pytest.raises(UneditableError):
        edited("a: &one {x: 1}\nb: *one\n", ("b", "x"), 2)


@given(st.one_of(st.text(max_size=30), st.integers(-(10**6), 10**6), st.booleans(), st.none()))
def test_a_written_value_is_read_back_by_another_reader(value: Any) -> None:
    """ruamel.yaml's safe loader, YAML 1.2."""
    if isinstance(value, str) and any(not letter.isprintable() for letter in value):
        return
    assert YAML(typ="safe", pure=True).load(f"key: {written(value)}\n")["key"] == value


_MARKS = ("navel", "c7", "lead-hip", "head")
_FRAMES = ("1", "12", "96", "192", "300")
_EDITS = st.lists(
    st.tuples(
        st.sampled_from(_MARKS),
        st.sampled_from(_FRAMES),
        st.one_of(st.none(), st.tuples(st.integers(0, 99999), st.integers(0, 99999))),
    ),
    max_size=30,
)


@settings(max_examples=60, deadline=None)
@given(_EDITS)
def test_any_run_of_edits_says_what_was_meant_and_keeps_every_comment(
    edits: list[tuple[str, str, tuple[int, int] | None]],
) -> None:
    """Read by ruamel.yaml's safe loader."""
    text = TEXT
    meant: dict[str, dict[str, list[float]]] = {
        "navel": {"12": [640.2, 401], "192": [612.5, 398.2, 0.8]},
        "c7": {"12": [1, 2]},
    }
    for mark, frame, place in edits:
        if place is None:
            text = edited(text, (mark, frame), ABSENT, blocks=2)
            meant.get(mark, {}).pop(frame, None)
        else:
            put = [place[0] / 100, place[1] / 100]
            text = edited(text, (mark, frame), put, blocks=2)
            meant.setdefault(mark, {})[frame] = put
    read = YAML(typ="safe", pure=True).load(text)
    found = {mark: {str(frame): at for frame, at in (read.get(mark) or {}).items()} for mark in _MARKS}
    assert found == {mark: meant.get(mark, {}) for mark in _MARKS}
    for comment in (
        "# head",
        "# the belt buckle",
        "# seen well",
        "# before the next",
        "# c7 is hard",
        "# x",
        "# t",
    ):
        assert comment in text


def test_a_hundred_edits_keep_comments_order_and_numbers() -> None:
    draw = random.Random(5)
    text = TEXT
    for _ in range(100):
        frame = draw.choice(("12", "13", "14", "15"))
        text = edited(text, ("navel", frame), [draw.randrange(9999) / 10, 1.0], blocks=2)
    text = edited(text, ("navel", "12"), [640.2, 401.0])
    for frame in ("13", "14", "15"):
        text = edited(text, ("navel", frame), ABSENT)
    assert text == TEXT.replace("640.20", "640.2")
    assert value_at(text, ("tail",)) == 3
