"""The desk shows what preflight finds, writes answers where they hold, and brings back what files were."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest
from PIL import Image
from starlette.testclient import TestClient

from lessonpress.press import preflight
from lessonpress.press.progress import Silent
from tests.desk.conftest import files_of
from tests.preflight.sites import of_words

LESSON = """\
---
title: Turning  # not a promise
date: 2026-11-23
---

Turn slowly. This swing protects your back.
"""
ABOUT = "---\ntitle: About\n---\n\nA swing like this is pain-free.\n"


@pytest.fixture
def site(tmp_path: Path) -> Path:
    return of_words(tmp_path / "notebook", LESSON, ABOUT)


def found(author: TestClient) -> list[dict[str, object]]:
    rows: list[dict[str, object]] = author.get("/api/preflight").json()["findings"]
    return rows


def test_the_desk_lists_what_the_command_prints(site: Path, author: TestClient) -> None:
    rows = found(author)
    assert [(row["file"], row["line"], row["severity"]) for row in rows] == [
        ("lessons/turning.md", 6, "severe"),
        ("pages/about.md", 5, "severe"),
    ]
    assert [row["id"] for row in rows] == [one.id for one in preflight(site, Silent()).open]


def test_an_answer_is_written_into_the_file_and_holds_and_is_taken_back(
    site: Path, author: TestClient
) -> None:
    before = files_of(site)
    for row in found(author):
        sent = {"path": row["file"], "finding": row["id"], "to": "it's a “quotation”: so"}
        assert author.post("/api/answers", json=sent).json() == {"path": row["file"]}
    text = (site / "lessons/turning.md").read_text(encoding="utf-8")
    assert text.startswith("---\ntitle: Turning  # not a promise\ndate: 2026-11-23\nmeant:\n  health-claim-")
    assert [row["answered"] for row in found(author)] == ["it's a “quotation”: so"] * 2
    for row in found(author):
        sent = {"path": row["file"], "finding": row["id"], "was": row["answered"], "to": None}
        assert author.post("/api/answers", json=sent).status_code == 200
    assert files_of(site) == before


def test_what_ends_on_the_card_of_a_picture_is_answered_there(site: Path, author: TestClient) -> None:
    soon = (datetime.now(UTC) + timedelta(days=60)).date()
    Image.new("RGB", (60, 40), "olive").save(site / "pages/bag.png")
    card = site / "pages/bag.png.yaml"
    card.write_text(f"source: {{kind: own}}\npeople: [{{name: Rowan, consent: written, until: {soon}}}]\n")
    about = site / "pages/about.md"
    about.write_text(about.read_text(encoding="utf-8") + "\n![A bag.](bag.png)\n", encoding="utf-8")
    (row,) = [row for row in found(author) if row["rule"] == "picture-rights"]
    sent = {"path": row["file"], "finding": row["id"], "to": "asked again"}
    assert author.post("/api/answers", json=sent).json() == {"path": "pages/bag.png.yaml"}
    assert card.read_text(encoding="utf-8").endswith(f"meant:\n  {row['id']}: asked again\n")
    assert [row["answered"] for row in found(author) if row["rule"] == "picture-rights"] == ["asked again"]


def test_an_answer_about_a_clip_is_written_on_its_card(site: Path, author: TestClient) -> None:
    card = site / "clips/dune/clip.yaml"
    card.parent.mkdir(parents=True)
    card.write_text("video: dune.mp4\nview: face-on\nhand: right\nsource: {kind: own}\npeople: []\n")
    (card.parent / "dune.mp4").write_bytes(b"no film")
    sent = {"path": "clips/dune/marks.yaml", "finding": "unused-marks-3fa91c", "to": "for next week"}
    assert author.post("/api/answers", json=sent).json() == {"path": "clips/dune/clip.yaml"}
    assert card.read_text().endswith("people: []\nmeant: {unused-marks-3fa91c: for next week}\n")


def test_an_answer_given_meanwhile_is_not_written_over(site: Path, author: TestClient) -> None:
    row = found(author)[0]
    sent = {"path": row["file"], "finding": row["id"], "to": "mine"}
    assert author.post("/api/answers", json=sent).status_code == 200
    answer = author.post("/api/answers", json={**sent, "to": "another"})
    assert answer.status_code == 409
    assert found(author)[-1]["answered"] == "mine"


def test_a_file_is_brought_back_and_what_it_held_is_kept_too(site: Path, author: TestClient) -> None:
    typed = LESSON.replace("slowly", "fast")
    author.put("/api/lessons/turning", json={"was": LESSON, "to": typed})
    (save,) = author.get("/api/saves").json()["saves"]
    assert (save["path"], save["bytes"], save["same"]) == ("lessons/turning.md", len(LESSON.encode()), False)
    told = author.get(f"/api/saves/{save['number']}").json()
    assert [line for line in told["lines"] if line[0] in "+-"] == [
        "-Turn fast. This swing protects your back.",
        "+Turn slowly. This swing protects your back.",
    ]
    back = {"path": save["path"], "number": save["number"]}
    assert author.post("/api/restore", json=back).json() == back
    assert (site / "lessons/turning.md").read_text(encoding="utf-8") == LESSON
    newest, first = author.get("/api/saves").json()["saves"]
    assert (first["same"], newest["same"]) == (True, False)
    author.post("/api/restore", json={"path": save["path"], "number": newest["number"]})
    assert (site / "lessons/turning.md").read_text(encoding="utf-8") == typed


@pytest.mark.parametrize(
    ("path", "status"),
    [
        ("lessons/nowhere.md", 404),
        ("lessons/../site.md", 422),
        ("lessons/..", 422),
        ("clips/../clip.yaml", 404),
        ("clips/nowhere/clip.yaml", 404),
        ("site.yaml", 422),
        ("", 422),
    ],
)
def test_an_answer_is_written_into_no_other_file(
    site: Path, author: TestClient, path: str, status: int
) -> None:
    before = files_of(site)
    sent = {"path": path, "finding": "caution-3fa91c", "to": "so"}
    assert author.post("/api/answers", json=sent).status_code == status
    assert files_of(site) == before


@pytest.mark.parametrize("path", ["../outside.md", "/etc/hosts", "lessons/turning.md", "lessons/none.md"])
def test_nothing_is_brought_back_that_was_not_kept(site: Path, author: TestClient, path: str) -> None:
    before = files_of(site)
    assert author.post("/api/restore", json={"path": path, "number": 7}).status_code == 422
    assert author.get("/api/saves/7").status_code == 404
    assert files_of(site) == before


def test_a_stranger_may_neither_answer_nor_bring_back(stranger: TestClient) -> None:
    sent = {"path": "lessons/turning.md", "finding": "caution-3fa91c", "to": "so"}
    assert stranger.post("/api/answers", json=sent).status_code == 403
    assert stranger.post("/api/restore", json={"path": "lessons/turning.md", "number": 1}).status_code == 403
