"""Carried marks accepted, cut back and undone."""

from __future__ import annotations

from pathlib import Path

import pytest
from starlette.testclient import TestClient

TRACKS = "/api/clips/dune-face-on/tracks"
FILE = "mark,frame,x,y,u\nhead,3,10.00,20.00,0.300\nhead,4,11.00,21.00,0.310\nnavel,5,30.50,40.25,0.100\n"


@pytest.fixture
def place(site: Path) -> Path:
    file = site / "clips" / "dune-face-on" / "tracks.csv"
    file.write_text(FILE, encoding="utf-8")
    return file


def _edit(first: int, last: int, was: list[list[float]], to: list[list[float]]) -> dict[str, object]:
    return {"edits": [{"mark": "head", "first": first, "last": last, "was": was, "to": to}]}


def test_rows_are_accepted_where_the_mark_is_and_taken_back(author: TestClient, place: Path) -> None:
    saved = author.post(TRACKS, json=_edit(5, 6, [], [[5, 12.0, 22.0, 0.32], [6, 13.0, 23.0, 0.33]]))
    assert place.read_text(encoding="utf-8").splitlines()[3:5] == [
        "head,5,12.00,22.00,0.320",
        "head,6,13.00,23.00,0.330",
    ]
    edit = saved.json()["edits"][0]
    author.post(TRACKS, json={"edits": [{**edit, "was": edit["to"], "to": edit["was"]}]})
    assert place.read_text(encoding="utf-8") == FILE


def test_a_track_is_cut_back(author: TestClient, place: Path) -> None:
    author.post(TRACKS, json=_edit(4, 9, [[4, 11.0, 21.0, 0.31]], []))
    assert place.read_text(encoding="utf-8") == FILE.replace("head,4,11.00,21.00,0.310\n", "")


def test_rows_changed_on_disk_are_asked_about(author: TestClient, place: Path) -> None:
    answer = author.post(TRACKS, json=_edit(3, 4, [], [[3, 1.0, 1.0, 0.1]]))
    assert answer.status_code == 409 and len(answer.json()["collisions"][0]["disk"]) == 2
    assert place.read_text(encoding="utf-8") == FILE


def test_rows_outside_the_stretch_are_refused(author: TestClient, place: Path) -> None:
    assert author.post(TRACKS, json=_edit(3, 4, [], [[9, 1.0, 1.0, 0.1]])).status_code == 400


def test_carrying_reports_its_progress_and_writes_nothing(author: TestClient, place: Path) -> None:
    told = author.post("/api/clips/dune-face-on/track", json={"marks": ["navel"], "from": 0, "to": 8})
    lines = [line for line in told.iter_lines() if line]
    assert told.headers["content-type"] == "application/x-ndjson"
    assert '"progress"' in lines[0] and lines[-1] == '{"done": true}'
    assert '"rows"' in lines[-2] or '"gaps"' in lines[-2]
    assert place.read_text(encoding="utf-8") == FILE
