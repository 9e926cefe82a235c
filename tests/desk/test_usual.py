"""The site's usual plates become a lesson in one request: sets at events, their braces, marks suggested."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator
from pathlib import Path
from typing import Any

import pytest
from starlette.testclient import TestClient

from lessonpress.footage import Suggestion
from lessonpress.records.mark import Observation
from tests.desk.conftest import files_of

CLIP = "/api/clips/dune-face-on"
SETS = """\
sets:
  body:
    - shift: navel
      as: navel-moves
      only: [top, impact]
    - use: lines
  lines:
    - tilt: [navel, c7]
      as: lean
    - vertical: lead-hip
"""


def _found(
    pictures: Iterable[tuple[int, object]], _view: str, _hand: str, marks: Collection[str]
) -> Iterator[Suggestion]:
    """Of what is asked for, C7 cannot be seen."""
    for frame, _ in pictures:
        rows = [Observation(mark, frame, 30.0, 40.0, 6.0, suggested=True) for mark in marks if mark != "c7"]
        yield Suggestion(frame, tuple(rows))


@pytest.fixture
def sets(site: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A site whose lessons draw no set yet, and a clip with hips alone."""
    monkeypatch.setattr("lessonpress.intake.suggest.suggest_marks", _found)
    monkeypatch.setattr("lessonpress.desk.work.usual.can_suggest", lambda: True)
    file = site / "site.yaml"
    file.write_text(file.read_text().partition("sets:")[0] + SETS)
    for lesson in (site / "lessons").glob("*.md"):
        lesson.unlink()
    folder = site / "clips" / "dune-face-on"
    (folder / "tracks.csv").unlink(missing_ok=True)
    (folder / "marks.yaml").write_text("lead-hip: {3: [9.0, 9.0]}\n")
    return site


def lay_out(author: TestClient, name: str = "week") -> dict[str, Any]:
    answer = author.post(f"{CLIP}/usual", json={"name": name, "title": "This week", "date": "2026-11-30"})
    assert answer.status_code == 201, answer.json()
    made: dict[str, Any] = answer.json()
    return made


def test_without_a_lesson_that_shows_how_all_sets_are_drawn_on_a_strip(
    author: TestClient, sets: Path
) -> None:
    (sets / "site.yaml").write_text((sets / "site.yaml").read_text().replace("    - use: lines\n", ""))
    assert lay_out(author)["text"] == (
        "---\ntitle: This week\ndate: 2026-11-30\nclip: dune-face-on\ndraft: true\n---\n"
        "\nNavel moves: {navel-moves.top} at top, {navel-moves.impact} at impact.\n"
        "\nLean: {lean.setup} at setup, {lean.top} at top, {lean.impact} at impact, "
        "{lean.finish} at finish.\n"
        "\n```strip\nid: sequence\nframes: [setup, top, impact, finish]\n"
        "draw:\n  - use: body\n  - use: lines\n```\n"
    )


def test_the_newest_lesson_with_a_set_says_what_is_usual(author: TestClient, sets: Path) -> None:
    front = "---\ntitle: A\ndate: {}\nclip: dune-face-on\n{}---\n\n"
    plates = (
        "```frame\nid: at-the-top\nat: top\ndraw:\n  - use: body\n  - ring: head\ncaption: Dune's.\n```\n\n"
        "```frame\nid: a-moment\nat: 20\ndraw:\n  - use: lines\n```\n\n```frame\nat: impact\n```\n"
    )
    (sets / "lessons" / "last.md").write_text(front.format("2026-11-20", "") + plates)
    strip = "```strip\nid: all\nframes: [setup, top]\ndraw:\n  - use: lines\n```\n"
    (sets / "lessons" / "older.md").write_text(front.format("2026-11-10", "") + strip)
    hidden = front.format("2026-11-29", "listed: false\n") + strip
    (sets / "lessons" / "hidden.md").write_text(hidden)
    text = lay_out(author)["text"]
    assert text.endswith(
        "\nNavel moves: {navel-moves} at top.\n\nLean: {lean} at top.\n"
        "\n```frame\nid: at-the-top\nat: top\ndraw:\n  - use: body\n```\n"
    )


def test_marks_are_suggested_where_they_are_wanted_and_the_others_listed(
    author: TestClient, sets: Path
) -> None:
    made = lay_out(author)
    frames = list(author.get(CLIP).json()["events"].values())
    wanted = {(mark, frame) for mark in ("navel", "c7", "lead-hip") for frame in frames}
    there = {("lead-hip", 3)} & wanted
    unseen = {("c7", frame) for frame in frames}
    assert {(one["mark"], one["frame"]) for one in made["missing"]} == unseen
    assert made["suggested"] == len(wanted - there - unseen)
    asked = author.get(f"{CLIP}/marks").json()["suggested"]
    assert {(mark, int(frame)) for mark, its in asked.items() for frame in its} == wanted - there - unseen
    plates = author.get("/api/lessons/week/wanted").json()
    assert [one["id"] for one in plates["figures"]] == ["sequence"]


def test_nothing_usual_and_a_name_that_is_taken_are_refused_and_nothing_is_written(
    author: TestClient, sets: Path
) -> None:
    lay_out(author)
    before = files_of(sets)
    again = author.post(f"{CLIP}/usual", json={"name": "week", "title": "Again"})
    assert again.status_code == 409
    (sets / "site.yaml").write_text("title: Bare\n")
    bare = author.post(f"{CLIP}/usual", json={"name": "new", "title": "New"})
    assert "no `sets`" in bare.json()["error"]["reason"]
    assert {**before, "site.yaml": b""} == {**files_of(sets), "site.yaml": b""}
