"""The proof follows what is saved, and presses only what that changed."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from starlette.testclient import TestClient

from lessonpress.desk.http.context import Desk
from lessonpress.desk.preview.proof import Proof
from lessonpress.press.progress import Silent
from lessonpress.press.run import press
from lessonpress.records import UsageError
from tests.conftest import Rewrite


@pytest.fixture
def pressed(desk: Desk, stranger: TestClient, pressed_site: Path) -> Desk:
    """A desk whose proof is pressed."""
    assert desk.proof.press().state == "good", desk.proof.outcome.problems
    return desk


def test_the_proof_is_the_site_as_the_press_publishes_it(pressed: Desk, site: Path, tmp_path: Path) -> None:
    out = tmp_path / "pressed"
    assert press(site, out, Silent()).summary is not None
    published = {str(path.relative_to(out)): path.read_bytes() for path in out.rglob("*") if path.is_file()}
    folder = pressed.proof.folder
    proof = {str(path.relative_to(folder)): path.read_bytes() for path in folder.rglob("*") if path.is_file()}
    published.pop("press.json")
    # no page leads to these
    for_letters = {path for path in published if re.search(r"\.(letter|sheet|square)\.png$", path)}
    for_browsers = {path for path in published if re.search(r"offline\.js|\.webmanifest$|/icon-", path)}
    assert for_letters and for_browsers and proof.keys() == published.keys() - for_letters - for_browsers
    assert [path for path in proof if proof[path] != published[path]] == []


def test_nothing_saved_presses_nothing(pressed: Desk) -> None:
    counted = (pressed.proof.bound_anew, pressed.proof.pages_anew)
    assert pressed.proof.press().pressed == ()
    assert (pressed.proof.bound_anew, pressed.proof.pages_anew) == counted == (2, 2)


def test_one_lesson_saved_presses_that_one_alone(pressed: Desk, site: Path, rewrite: Rewrite) -> None:
    rewrite(site / "lessons" / "pelvis.md", "three lines", "three plumb lines")
    assert pressed.proof.press().pressed == ("pelvis",)
    assert (pressed.proof.bound_anew, pressed.proof.pages_anew) == (3, 3)
    page = pressed.proof.folder / "lessons" / "pelvis" / "index.html"
    assert "three plumb lines" in page.read_text(encoding="utf-8")


def test_a_mark_moved_presses_the_lessons_that_show_it(pressed: Desk, site: Path, author: TestClient) -> None:
    marks = author.get("/api/clips/dune-face-on/marks").json()["marks"]
    frame, was = next(iter(marks["c7"].items()))
    edit = {"mark": "c7", "frame": int(frame), "was": was, "to": [was[0] + 1, was[1]]}
    author.post("/api/clips/dune-face-on/marks", json={"edits": [edit]})
    assert set(pressed.proof.press().pressed) == {"pelvis"}  # the other lesson is of another frame


def test_a_lesson_with_faults_shows_them_at_their_line_and_its_last_good_page_stays(
    pressed: Desk, site: Path, author: TestClient, rewrite: Rewrite
) -> None:
    good = author.get("/proof/lessons/pelvis/").text
    rewrite(site / "lessons" / "pelvis.md", "{navel-back}", "{navel-bakc}")
    outcome = pressed.proof.press()
    assert outcome.state == "faulty"
    fault = next(one for one in outcome.problems if one.severity == "error")
    shown = author.get("/proof/lessons/pelvis/").text
    line = shown.index(f'id="line-{fault.location.line}" class="faulty"')
    assert line < shown.index(str(fault.location)) < shown.index(f'id="line-{fault.location.line + 1}"')
    assert 'href="/good/lessons/pelvis/index.html"' in shown
    assert author.get("/good/lessons/pelvis/index.html").text == good
    assert author.get("/proof/lessons/kinds/").status_code == 200
    rewrite(site / "lessons" / "pelvis.md", "{navel-bakc}", "{navel-back}")
    assert pressed.proof.press().state == "good"
    assert author.get("/proof/lessons/pelvis/").text == good


def test_a_text_of_markup_is_shown_and_not_run(pressed: Desk, site: Path, author: TestClient) -> None:
    file = site / "lessons" / "pelvis.md"
    evil = "<script>alert(1)</script> <img src=x onerror=alert(1)>"
    file.write_text(file.read_text(encoding="utf-8") + f"\n{evil} {{nowhere}}\n", encoding="utf-8")
    pressed.proof.press()
    shown = author.get("/proof/lessons/pelvis/").text
    assert "<script>alert" not in shown and "<img src=x" not in shown and "&lt;script&gt;" in shown


def test_a_lesson_taken_away_leaves_the_proof(pressed: Desk, site: Path, author: TestClient) -> None:
    (site / "lessons" / "pelvis.md").unlink()
    pressed.proof.press()
    assert author.get("/proof/lessons/pelvis/").status_code == 404
    assert "lessons/pelvis" not in author.get("/proof/").text


def test_the_lesson_that_is_looked_at_is_pressed_before_all_others(
    desk: Desk, pressed_site: Path, author: TestClient
) -> None:
    newest_first = [one["name"] for one in author.get("/api/site").json()["lessons"]]
    assert author.get(f"/api/lessons/{newest_first[-1]}").status_code == 200
    first = desk.proof.press_some()
    assert (first.pressed, first.pending) == ((newest_first[-1],), tuple(newest_first[:-1]))
    assert author.get(f"/proof/lessons/{newest_first[-1]}/").status_code == 200
    assert author.get(f"/proof/lessons/{newest_first[0]}/").status_code == 404
    rest = desk.proof.press_some()
    assert (rest.pressed, rest.pending) == (tuple(newest_first[:-1]), ())
    assert author.get(f"/proof/lessons/{newest_first[0]}/").status_code == 200
    assert desk.proof.bound_anew == len(newest_first)


def test_the_lesson_that_is_looked_at_has_its_page_before_all_else(
    pressed: Desk, site: Path, rewrite: Rewrite
) -> None:
    pressed.proof.front = "pelvis"
    assert pressed.proof.press_front() is None, "nothing of it changed"
    before = pressed.proof.outcome
    rewrite(site / "lessons" / "pelvis.md", "three lines", "three plumb lines")
    front = pressed.proof.press_front()
    assert front is not None and front.number == before.number + 1
    assert front.pages["pelvis"] != before.pages["pelvis"] and front.pages["kinds"] == before.pages["kinds"]
    assert front.pending == ("kinds",), "the page shows that this one is there and others are to come"
    page = pressed.proof.folder / "lessons" / "pelvis" / "index.html"
    assert "three plumb lines" in page.read_text(encoding="utf-8")
    whole = pressed.proof.press_some()
    assert whole.pages == front.pages and whole.pending == () and whole.pressed == ("pelvis",)


def test_a_lesson_with_faults_is_left_to_the_press_of_all(
    pressed: Desk, site: Path, rewrite: Rewrite
) -> None:
    pressed.proof.front = "pelvis"
    rewrite(site / "lessons" / "pelvis.md", "{navel-back}", "{navel-bakc}")
    assert pressed.proof.press_front() is None
    assert pressed.proof.press_some().state == "faulty"
    rewrite(site / "lessons" / "pelvis.md", "{navel-bakc}", "{navel-back}")
    front = pressed.proof.press_front()
    assert front is not None and not [one for one in front.problems if one.severity == "error"]


def test_a_template_that_fails_is_left_to_the_press_of_all(
    pressed: Desk, site: Path, rewrite: Rewrite, monkeypatch: pytest.MonkeyPatch
) -> None:
    def fails(*_: object) -> str:
        raise UsageError("parts/plate.html fails")

    pressed.proof.front = "pelvis"
    rewrite(site / "lessons" / "pelvis.md", "three lines", "three plumb lines")
    monkeypatch.setattr(Proof, "_put", fails)
    assert pressed.proof.press_front() is None
    outcome = pressed.proof.press_some()
    assert outcome.state == "faulty"
    assert "parts/plate.html fails" in [one.wrong for one in outcome.problems]
