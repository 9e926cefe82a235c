"""What is put away is out of the site and can be taken back as it was; what is named stays."""

from __future__ import annotations

from pathlib import Path

import pytest
from starlette.testclient import TestClient

from lessonpress.desk.http.context import Desk
from lessonpress.manuscript import read_site
from tests.desk.conftest import files_of

CLIP, BACK = "put-away/clips/shingle-face-on", "/api/put-away/back"


def test_a_clip_that_nothing_names_goes_and_comes_back(author: TestClient, site: Path) -> None:
    before = files_of(site)
    assert author.post("/api/clips/shingle-face-on/away").json() == {"path": CLIP}
    read, problems = read_site(site)
    assert read is not None and list(read.clips) == ["dune-face-on"] and problems.errors == []
    told = author.get("/api/site").json()
    assert told["put_away"] == [{"path": CLIP, "what": "clip", "name": "shingle-face-on"}]
    assert author.post(BACK, json={"path": CLIP}).json() == {"path": "clips/shingle-face-on"}
    assert files_of(site) == before and author.get("/api/site").json()["put_away"] == []


def test_a_lesson_that_nothing_leads_to_goes_and_comes_back(author: TestClient, site: Path) -> None:
    (site / "build" / "site").mkdir(parents=True)  # pressed, and not yet with this one
    before = files_of(site)
    away = author.post("/api/lessons/kinds/away").json()["path"]
    assert away == "put-away/lessons/kinds.md"
    assert [one["name"] for one in author.get("/api/site").json()["lessons"]] == ["pelvis"]
    author.post(BACK, json={"path": away})
    assert files_of(site) == before


def test_the_address_of_one_that_was_published_gets_a_note_until_it_is_back(
    author: TestClient, desk: Desk, site: Path
) -> None:
    page = site / "build" / "site" / "lessons" / "kinds" / "index.html"
    page.parent.mkdir(parents=True)
    page.write_text("as it was pressed", encoding="utf-8")
    before = files_of(site)
    away = author.post("/api/lessons/kinds/away").json()["path"]
    noted = (site / "withdrawn.yaml").read_text(encoding="utf-8")
    assert "lesson: lessons/kinds.md" in noted and "addresses: [lessons/kinds], put_away: true" in noted
    desk.proof.press()
    note = (desk.proof.folder / "lessons" / "kinds" / "index.html").read_text(encoding="utf-8")
    assert "No longer here" in note and "withdrawn" not in note and "kinds" not in note.partition("<main")[2]
    assert 'name="robots" content="noindex' in note
    author.post(BACK, json={"path": away})
    assert not (site / "withdrawn.yaml").exists() and files_of(site) == before


def test_a_draft_and_what_a_press_never_had_get_no_note(author: TestClient, site: Path) -> None:
    text = site / "lessons" / "kinds.md"
    text.write_text(text.read_text("utf-8").replace("---\n", "---\ndraft: true\n", 1), encoding="utf-8")
    author.post("/api/lessons/kinds/away")
    assert not (site / "withdrawn.yaml").exists()


def test_notes_of_withdrawals_stay_as_they_are(author: TestClient, site: Path) -> None:
    other = "# mine\n- {lesson: lessons/kinds.md, on: 2026-01-05, addresses: [lessons/kinds]}\n"
    (site / "withdrawn.yaml").write_text(other, encoding="utf-8")
    away = author.post("/api/lessons/kinds/away").json()["path"]
    assert "put_away: true" in (site / "withdrawn.yaml").read_text(encoding="utf-8")
    author.post(BACK, json={"path": away})
    assert (site / "withdrawn.yaml").read_text(encoding="utf-8") == other


def test_a_file_of_notes_that_cannot_be_read_keeps_the_lesson_where_it_is(
    author: TestClient, site: Path
) -> None:
    (site / "withdrawn.yaml").write_text("- lesson: [", encoding="utf-8")
    before = files_of(site)
    refused = author.post("/api/lessons/kinds/away")
    assert refused.status_code == 422 and "withdrawn.yaml" in refused.json()["error"]["reason"]
    assert files_of(site) == before


@pytest.mark.parametrize(
    ("what", "written", "where"),
    [
        ("clips/dune-face-on", None, "lessons/kinds.md, lessons/pelvis.md"),
        ("clips/shingle-face-on", ("clips/dune-face-on/clip.yaml", "\nsecond_view: shingle-face-on\n"), ""),
        ("lessons/pelvis", ("pages/about.md", "\n[this](../lessons/pelvis.md)\n"), ""),
        (
            "lessons/pelvis",
            ("lessons/kinds.md", "\n```progress\nmeasure: a\nover: [pelvis, kinds]\n```\n"),
            "",
        ),
    ],
)
def test_what_is_named_stays_and_it_is_said_where(
    author: TestClient, site: Path, what: str, written: tuple[str, str] | None, where: str
) -> None:
    if written is not None:
        with (site / written[0]).open("a", encoding="utf-8") as file:
            file.write(written[1])
    before = files_of(site)
    refused = author.post(f"/api/{what}/away")
    assert refused.status_code == 422
    assert (where or (written and written[0]) or "?") in refused.json()["error"]["reason"]
    assert files_of(site) == before


def test_nothing_takes_the_place_of_something_else(author: TestClient, site: Path) -> None:
    author.post("/api/lessons/kinds/away")
    again = site / "lessons" / "kinds.md"
    again.write_bytes((site / "put-away" / "lessons" / "kinds.md").read_bytes())
    assert author.post(BACK, json={"path": "put-away/lessons/kinds.md"}).status_code == 409
    assert author.post("/api/lessons/kinds/away").status_code == 409
    assert again.is_file()


@pytest.mark.parametrize(
    "path", ["clips/dune-face-on", "put-away/clips/../x", "put-away/build/x", "put-away/clips/nowhere", ""]
)
def test_only_what_is_put_away_is_taken_back(author: TestClient, site: Path, path: str) -> None:
    before = files_of(site)
    assert author.post(BACK, json={"path": path}).status_code == 404
    assert files_of(site) == before


def test_no_page_leads_into_what_is_put_away(author: TestClient, site: Path) -> None:
    author.post("/api/clips/shingle-face-on/away")
    with (site / "pages" / "about.md").open("a", encoding="utf-8") as file:
        file.write(f"\n[film](../{CLIP}/clip.yaml)\n")
    _, problems = read_site(site)
    assert [one.location.path for one in problems.errors] == ["pages/about.md"]
