"""Lengths under the pointer."""

from __future__ import annotations

import pytest
from starlette.testclient import TestClient

from lessonpress.desk.views.numbers import stature_words

LENGTH = "/api/clips/dune-face-on/length"


def test_the_known_length_measures_as_what_it_is(author: TestClient) -> None:
    """The card's own stick, between its marks as placed; its length is on the card."""
    card = author.get("/api/clips/dune-face-on/card").json()["card"]
    stick = card["scale"][0]
    marks = author.get("/api/clips/dune-face-on/marks").json()["marks"]
    ends = [next(iter(marks[mark].values()))[:2] for mark in stick["between"]]
    number = author.post(LENGTH, json={"frame": 0, "a": ends[0], "b": ends[1]}).json()["number"]
    known = float(stick["length"].split()[0])
    assert number["unit"] == "in" and abs(float(number["value"]) - known) <= float(number["pm"])


def test_a_mark_that_is_not_there_and_a_wrong_axis_are_reported(author: TestClient) -> None:
    assert author.post(LENGTH, json={"frame": 0, "a": [1, 2], "b": "crown-jewel"}).status_code == 422
    assert author.post(LENGTH, json={"frame": 0, "a": [1, 2], "b": [3, 4], "axis": "up"}).status_code == 400


def test_a_clip_says_what_its_scale_makes_of_the_golfer(author: TestClient) -> None:
    stature = author.get("/api/clips/dune-face-on").json()["stature"]
    assert stature["implied"] is None or float(stature["implied"]["value"]) > 0


@pytest.mark.parametrize(
    ("value", "unit", "words"),
    [
        ("68", "in", "5 ft 8 in"),
        ("68.3", "in", "5 ft 8.3 in"),
        ("72", "in", "6 ft 0 in"),
        ("181", "cm", "181 cm"),
    ],
)
def test_a_stature_is_said_in_feet_and_inches(value: str, unit: str, words: str) -> None:
    assert stature_words(value, unit) == words
