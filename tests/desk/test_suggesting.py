"""Marks suggested at the desk are questions beside the marks, and none of them before the author says so."""

from __future__ import annotations

import json
import threading
from collections.abc import Collection, Iterable, Iterator
from pathlib import Path
from threading import Event
from typing import Any

import pytest
from starlette.testclient import TestClient

from lessonpress.desk.http.context import Desk
from lessonpress.desk.work.suggesting import opened_for, suggest_everywhere
from lessonpress.footage import Found, Moment, Suggestion
from lessonpress.records.mark import Observation
from tests.desk.conftest import files_of

CLIP = "/api/clips/dune-face-on"
AT = {"frame": 1}


def _found(
    pictures: Iterable[tuple[int, object]], _view: str, _hand: str, _marks: Collection[str]
) -> Iterator[Suggestion]:
    """As the networks would find them; they are tried in `tests/footage`."""
    for frame, _ in pictures:
        rows = [Observation(mark, frame, 30.126, 40.0, 6.2, suggested=True) for mark in ("navel", "lead-toe")]
        yield Suggestion(frame, tuple(rows), {"crown": "it is not seen clearly enough"})


@pytest.fixture
def finding(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("lessonpress.intake.suggest.suggest_marks", _found)


@pytest.fixture
def place(site: Path) -> Path:
    folder = site / "clips" / "dune-face-on"
    (folder / "marks.yaml").write_text("navel:\n  1: [9.0, 9.0]\n", encoding="utf-8")
    return folder


def _marks(author: TestClient) -> dict[str, Any]:
    told: dict[str, Any] = author.get(f"{CLIP}/marks").json()
    return told


@pytest.mark.usefixtures("finding")
def test_what_is_suggested_is_kept_apart_and_is_no_mark(author: TestClient, place: Path) -> None:
    """Where a hand has placed the mark, nothing is suggested."""
    before = (place / "marks.yaml").read_bytes()
    told = author.post(f"{CLIP}/suggest", json=AT).json()
    assert told["rows"] == {"lead-toe": [30.126, 40.0, 6.2]}
    assert told["missing"] == {"crown": "it is not seen clearly enough"}
    assert (place / "suggested.csv").read_text() == "mark,frame,x,y,u\nlead-toe,1,30.13,40.00,6.200\n"
    assert (place / "marks.yaml").read_bytes() == before
    marks = _marks(author)
    assert marks["suggested"] == {"lead-toe": {"1": [30.13, 40.0, 6.2]}}
    assert "lead-toe" not in marks["marks"]


@pytest.mark.usefixtures("finding")
def test_an_accepted_one_keeps_its_u_and_its_word_until_it_is_taken_back(
    author: TestClient, place: Path
) -> None:
    author.post(f"{CLIP}/suggest", json=AT)
    before = (place / "marks.yaml").read_text()
    edit = {"mark": "lead-toe", **AT, "was": None, "to": [30.13, 40.0, 6.2, "suggested"]}
    saved = author.post(f"{CLIP}/marks", json={"edits": [edit]}).json()
    assert "  1: [30.13, 40.0, 6.2, suggested]\n" in (place / "marks.yaml").read_text()
    marks = _marks(author)
    assert marks["marks"]["lead-toe"] == {"1": [30.13, 40.0, 6.2, "suggested"]}
    assert marks["suggested"] == {}
    back = [{**one, "was": one["to"], "to": one["was"]} for one in saved["edits"]]
    assert author.post(f"{CLIP}/marks", json={"edits": back}).status_code == 200
    assert (place / "marks.yaml").read_text() == before
    assert "lead-toe" in _marks(author)["suggested"]


@pytest.mark.usefixtures("finding")
def test_on_every_picture_it_says_how_far_it_is_and_keeps_what_it_found(
    author: TestClient, place: Path
) -> None:
    answer = author.post(f"{CLIP}/suggest-all")
    lines = [json.loads(line) for line in answer.text.splitlines()]
    count = author.get(CLIP).json()["frames"]
    assert [one["progress"] for one in lines[:-1]] == list(range(1, count + 1))
    assert {one["of"] for one in lines[:-1]} == {count}
    # the navel is placed by hand in one of them
    assert lines[-1] == {"done": True, "pictures": count, "marks": 2 * count - 1, "why": ""}
    rows = (place / "suggested.csv").read_text().splitlines()
    assert len(rows) == 1 + 2 * count - 1 and "navel,1," not in "\n".join(rows)


def test_stopped_it_keeps_what_was_found_until_then(
    desk: Desk, place: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The sixth picture is looked at only once no one reads on."""
    left = Event()

    def found(*asked: Any) -> Iterator[Suggestion]:
        for number, one in enumerate(_found(*asked)):
            if number == 5:
                left.wait(60)
            yield one

    monkeypatch.setattr("lessonpress.intake.suggest.suggest_marks", found)
    lines = suggest_everywhere(desk.live, opened_for(desk.live, "dune-face-on"))
    read = [json.loads(next(lines))["progress"] for _ in range(5)]
    working = [one for one in threading.enumerate() if one.name == "suggesting marks"]
    lines.close()  # type: ignore[attr-defined]
    left.set()
    for thread in working:
        thread.join(60)
    rows = (place / "suggested.csv").read_text().splitlines()
    assert read == [1, 2, 3, 4, 5] and {int(row.split(",")[1]) for row in rows[1:]} == {0, 1, 2, 3, 4, 5}


def test_without_the_extra_one_line_says_how_to_get_it(
    author: TestClient, site: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("lessonpress.footage.pose.running.LIBRARY", "no_such_library")
    before = files_of(site)
    refused = author.post(f"{CLIP}/suggest", json=AT)
    assert refused.status_code == 422
    assert "pip install 'lessonpress[suggest]'" in refused.json()["error"]["way_out"]
    assert files_of(site) == before


@pytest.mark.usefixtures("finding")
def test_a_site_may_forbid_them(author: TestClient, site: Path) -> None:
    file = site / "site.yaml"
    file.write_text(file.read_text() + "suggested: no\n")
    assert author.get("/api/site").json()["suggested"] is False
    before = files_of(site)
    assert "suggested: no" in author.post(f"{CLIP}/suggest", json=AT).json()["error"]["reason"]
    assert files_of(site) == before


def test_events_are_proposed_with_pictures_either_way_and_kept(
    author: TestClient, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Where they lie is tried in `tests/footage`; the second answer comes from the cache."""
    asked = []

    def found(*film: object) -> Found:
        asked.append(film)
        return Found({"setup": Moment(3, 1), "halfway": Moment(17, 2), "top": Moment(24, 2)}, "why not more")

    monkeypatch.setattr("lessonpress.desk.work.proposing.film_moments", found)
    told = author.get(f"{CLIP}/proposed").json()
    assert told["events"] == [
        {"name": "setup", "frame": 3, "within": 1},
        {"name": "top", "frame": 24, "within": 2},
    ]
    assert told["why"] == "why not more"
    assert author.get(f"{CLIP}/proposed").json() == told
    assert len(asked) == 1
