"""A lesson's text saved beside others who write it."""

from __future__ import annotations

from pathlib import Path

import pytest
from starlette.testclient import TestClient

LESSON = "/api/lessons/pelvis"
BLOCK = "```frame\nid: added\nat: top\n```\n"


@pytest.fixture
def place(site: Path) -> Path:
    return site / "lessons" / "pelvis.md"


def test_a_text_is_saved_as_written_mistakes_and_all(author: TestClient, place: Path) -> None:
    was = author.get(LESSON).json()["text"]
    to = was + "\nA number that is not there: {nowhere}.\n"
    answer = author.put(LESSON, json={"was": was, "to": to}).json()
    assert place.read_text(encoding="utf-8") == to and answer["merged"] is False


def test_what_was_changed_meanwhile_is_merged(author: TestClient, place: Path) -> None:
    was = author.get(LESSON).json()["text"]
    place.write_text(was.replace("three lines", "three plumb lines"), encoding="utf-8")
    answer = author.put(LESSON, json={"was": was, "to": was + "\nA last word.\n"}).json()
    text = place.read_text(encoding="utf-8")
    assert answer["merged"] is True and answer["text"] == text
    assert "three plumb lines" in text and text.endswith("A last word.\n")


def test_line_endings_and_the_byte_order_mark_stay_as_they_were(author: TestClient, place: Path) -> None:
    windows = "\ufeff" + place.read_text(encoding="utf-8").replace("\n", "\r\n")
    place.write_bytes(windows.encode())
    was = author.get(LESSON).json()["text"]
    author.put(LESSON, json={"was": was, "to": was + "\nA last word.\n"})
    assert place.read_bytes().decode() == windows + "\r\nA last word.\r\n"


def test_the_same_line_changed_twice_is_asked_about(author: TestClient, place: Path) -> None:
    was = author.get(LESSON).json()["text"]
    theirs = was.replace("title: The pelvis travels", "title: Theirs")
    place.write_text(theirs, encoding="utf-8")
    mine = {"was": was, "to": was.replace("title: The pelvis travels", "title: Mine")}
    answer = author.put(LESSON, json=mine)
    assert answer.status_code == 409 and answer.json()["disk"] == theirs
    assert answer.json()["collisions"] == [
        {"line": 2, "was": "title: The pelvis travels\n", "to": "title: Mine\n", "disk": "title: Theirs\n"}
    ]
    assert place.read_text(encoding="utf-8") == theirs
    assert author.put(LESSON, json={**mine, "anyway": True}).status_code == 200
    assert place.read_text(encoding="utf-8") == mine["to"]


@pytest.mark.parametrize("line", [1, 3, 9, 14, 10_000])
def test_a_figure_is_put_between_paragraphs_and_never_into_a_block(
    author: TestClient, place: Path, line: int
) -> None:
    before = author.get(LESSON).json()
    answer = author.post(f"{LESSON}/figures", json={"block": BLOCK, "line": line}).json()
    text = place.read_text(encoding="utf-8")
    assert text.count(BLOCK) == 1 and answer["text"] == text
    ids = [block["id"] for block in before["blocks"]]
    assert [block["id"] for block in answer["blocks"] if block["id"] != "added"] == ids
    added = next(block for block in answer["blocks"] if block["id"] == "added")
    assert added["line"] == answer["line"] and added["last_line"] == added["line"] + 3
    assert answer["title"] == "The pelvis travels"
    without = text.replace(BLOCK, "")
    assert [one for one in without.split("\n") if one] == [one for one in before["text"].split("\n") if one]


def test_a_new_lesson_has_its_figures_in_the_order_of_the_swing(author: TestClient, site: Path) -> None:
    blocks = [
        "```frame\nid: b\nat: impact\n```\n",
        "```frame\nid: a\nat: setup\n```\n",
        "```frame\nid: c\nat: top\n```",
    ]
    asked = {
        "name": "fresh",
        "title": "Yes: a title",
        "clip": "dune-face-on",
        "date": "2026-11-24",
        "blocks": blocks,
    }
    answer = author.post("/api/lessons", json=asked)
    assert answer.status_code == 201 and answer.json()["title"] == "Yes: a title"
    assert [block["id"] for block in answer.json()["blocks"]] == ["a", "c", "b"]
    assert author.post("/api/lessons", json=asked).status_code == 409


def test_a_new_lesson_without_figures_shows_every_event(author: TestClient) -> None:
    events = author.get("/api/clips/dune-face-on").json()["events"]
    asked = {"name": "fresh", "title": "T", "clip": "dune-face-on"}
    blocks = author.post("/api/lessons", json=asked).json()["blocks"]
    assert [block["id"] for block in blocks] == sorted(events, key=lambda event: events[event])


def test_a_blocks_text_is_laid_out_as_the_handbook_writes_it(author: TestClient) -> None:
    fields = {
        "draw": [{"shift": "navel", "since": "setup", "as": "navel-back"}, {"tilt": ["navel", "c7"]}],
        "at": "top",
        "id": "top",
        "caption": "Back: {navel-back}",
    }
    answer = author.post("/api/block", json={"kind": "frame", "fields": fields}).json()
    assert answer["text"] == (
        'id: top\nat: top\ncaption: "Back: {navel-back}"\ndraw:\n'
        "  - shift: navel\n    since: setup\n    as: navel-back\n  - tilt: [navel, c7]\n"
    )
    assert answer["block"] == f"```frame\n{answer['text']}```\n"
