"""Single values of a card changed in the author's text."""

from __future__ import annotations

from pathlib import Path

import pytest
from starlette.testclient import TestClient

CARD = "/api/clips/dune-face-on/card"


@pytest.fixture
def place(site: Path) -> Path:
    return site / "clips" / "dune-face-on" / "clip.yaml"


def _edit(path: list[str | int], was: object, to: object) -> dict[str, object]:
    return {"edits": [{"path": path, "was": was, "to": to}]}


def test_an_event_is_moved_and_moved_back(author: TestClient, place: Path) -> None:
    before = place.read_text(encoding="utf-8")
    top = author.get(CARD).json()["card"]["events"]["top"]
    saved = author.post(CARD, json=_edit(["events", "top"], top, top + 1))
    assert saved.json()["card"]["events"]["top"] == top + 1
    author.post(CARD, json=_edit(["events", "top"], top + 1, top))
    assert place.read_text(encoding="utf-8") == before


def test_a_length_a_plumb_line_and_a_day_are_added_as_an_author_writes_them(
    author: TestClient, place: Path
) -> None:
    card = author.get(CARD).json()["card"]
    edits = [
        {
            "path": ["scale", len(card["scale"])],
            "was": None,
            "to": {"between": ["a", "b"], "length": "5 ft 10 in"},
        },
        {"path": ["filmed_on"], "was": card.get("filmed_on"), "to": "2026-10-13"},
    ]
    saved = author.post(CARD, json={"edits": edits})
    assert saved.status_code == 200, saved.text
    text = place.read_text(encoding="utf-8")
    assert "- {between: [a, b], length: 5 ft 10 in}\n" in text and "filmed_on: 2026-10-13" in text


def test_an_edit_that_would_be_a_mistake_is_reported_and_not_written(author: TestClient, place: Path) -> None:
    before = place.read_text(encoding="utf-8")
    answer = author.post(CARD, json=_edit(["view"], "face-on", "sideways"))
    assert answer.status_code == 422
    assert answer.json()["problems"][0]["path"] == "clips/dune-face-on/clip.yaml"
    assert place.read_text(encoding="utf-8") == before


def test_a_card_that_is_not_filled_in_is_filled_in_one_answer_at_a_time(
    author: TestClient, place: Path
) -> None:
    place.write_text(
        "# ask\nvideo: dune-face-on.mp4\nview:\nhand:   # which?\nsource:\npeople:\n", encoding="utf-8"
    )
    for path, to in (
        (["hand"], "right"),
        (["view"], "face-on"),
        (["people"], []),
        (["source"], {"kind": "own", "credit": "Saltmarsh: Studio"}),
    ):
        assert author.post(CARD, json=_edit(path, None, to)).status_code == 200
    assert place.read_text(encoding="utf-8") == (
        "# ask\nvideo: dune-face-on.mp4\nview: face-on\nhand: right   # which?\n"
        'source: {kind: own, credit: "Saltmarsh: Studio"}\npeople: []\n'
    )
    assert author.get(CARD).json()["problems"] == []


def test_line_endings_and_the_byte_order_mark_stay_as_they_were(author: TestClient, place: Path) -> None:
    windows = b"\xef\xbb\xbf" + place.read_bytes().replace(b"\n", b"\r\n")
    place.write_bytes(windows)
    author.post(CARD, json=_edit(["hand"], "right", "left"))
    assert place.read_bytes() == windows.replace(b"hand: right", b"hand: left")


def test_a_value_changed_on_disk_is_asked_about(author: TestClient, place: Path) -> None:
    before = place.read_text(encoding="utf-8")
    answer = author.post(CARD, json=_edit(["hand"], "left", "right"))
    assert answer.status_code == 200, "the same is no collision"
    answer = author.post(CARD, json=_edit(["stature"], "6 ft", "6 ft 1 in"))
    assert answer.status_code == 409 and answer.json()["collisions"][0]["disk"] != "6 ft"
    assert place.read_text(encoding="utf-8") == before
