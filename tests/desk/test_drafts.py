"""A draft is drawn and measured as the press does it."""

from __future__ import annotations

from pathlib import Path

from starlette.testclient import TestClient

from lessonpress.figures import lettered
from lessonpress.records import Measure
from tests.reading import read_and_bind

TEXT = """\
id: impact
at: impact
draw:
  - tilt: [navel, c7]
    as: spine-tilt
  - shift: navel
    since: setup
    as: navel-forward
"""
DRAFT = {"clip": "dune-face-on", "kind": "frame", "text": TEXT, "width": 640}


def full_of(measure: Measure) -> str:
    number = lettered(measure, "in")
    assert number is not None
    return number.full


def test_a_drafts_numbers_are_those_of_the_pressed_lesson(site: Path, author: TestClient) -> None:
    lesson = f"---\ntitle: T\ndate: 2026-11-23\nclip: dune-face-on\n---\n\n```frame\n{TEXT}```\n"
    (site / "lessons" / "alone.md").write_text(lesson, encoding="utf-8")
    bound = read_and_bind(site).bound
    assert bound is not None
    pressed = next(one for one in bound.lessons if one.lesson.name == "alone").measures
    drafted = {one["id"]: one for one in author.post("/api/draft", json=DRAFT).json()["measures"]}
    for name in ("spine-tilt", "navel-forward"):
        shares = [share.share for share in pressed[name].budget.shares]  # type: ignore[union-attr]
        assert [one["share"] for one in drafted[name]["budget"]] == shares[:6]
        assert drafted[name]["frames"] == list(pressed[name].frames)
        assert drafted[name]["number"]["text"]


def test_a_draft_is_drawn_over_the_whole_picture_at_its_width(author: TestClient) -> None:
    panel = author.post("/api/draft", json=DRAFT).json()["panels"][0]
    assert panel["crop"] == [0.0, 0.0, 640.0, 400.0] and 'viewBox="0 0 640 400"' in panel["svg"]
    assert "<script" not in panel["svg"]
    own = author.post("/api/draft", json={**DRAFT, "crop": "own"}).json()["panels"][0]
    assert own["crop"] != panel["crop"]


def test_a_loop_is_drawn_on_the_one_picture_that_is_asked_for(author: TestClient) -> None:
    text = "from: top\nto: impact\ndraw:\n  - line: [navel, c7]\n"
    loop = {"clip": "dune-face-on", "kind": "loop", "text": text, "frame": 33}
    assert [one["frame"] for one in author.post("/api/draft", json=loop).json()["panels"]] == [33]
    assert author.post("/api/draft", json={**loop, "frame": 3}).json()["panels"] == []
    whole = author.post("/api/draft", json={**loop, "frame": None}).json()
    frames = [one["frame"] for one in whole["panels"]]
    assert (frames[0], len(frames), frames[-1]) == (26, 3, 33)
    assert whole["loop"]["pictures"] == 8 and whole["loop"]["slowed"] == 4 and whole["drawing"] is None


def test_a_chart_over_lessons_is_drawn_with_what_they_measured(site: Path, author: TestClient) -> None:
    pelvis = (site / "lessons" / "pelvis.md").read_text(encoding="utf-8")
    (site / "lessons" / "again.md").write_text(pelvis.replace("title: ", "title: Again, "), encoding="utf-8")
    numbers = author.get("/api/site").json()["numbers"]
    assert numbers["navel-back"] == ["again", "pelvis"] and numbers["lean.setup"] == ["again", "pelvis"]
    chart = {
        "clip": "dune-face-on",
        "kind": "progress",
        "text": "measure: lean.setup\nover: [pelvis, again]\n",
    }
    told = author.post("/api/draft", json=chart).json()
    assert told["problems"] == [] and told["panels"] == [] and "<svg" in told["drawing"]
    bound = read_and_bind(site).bound
    assert bound is not None
    own = next(one for one in bound.lessons if one.lesson.name == "pelvis").named["lean.setup"]
    assert [one["number"]["text"] for one in told["points"]] == [full_of(own)] * 2
    wrong = author.post("/api/draft", json={**chart, "text": "measure: x\nover: [pelvis, nowhere]\n"}).json()
    assert [one["wrong"] for one in wrong["problems"]] == [
        "the lesson pelvis has no measure `x`",
        "there is no lesson `nowhere`",
    ]
    assert wrong["drawing"] is None


def test_a_draft_is_drawn_as_wide_as_the_largest_pictures_are_at_zoom_8(author: TestClient) -> None:
    wide = author.post("/api/draft", json={**DRAFT, "width": 8 * 3840})
    assert wide.status_code == 200 and 'viewBox="0 0 30720 19200"' in wide.json()["panels"][0]["svg"]
    assert author.post("/api/draft", json={**DRAFT, "width": 33_000}).status_code == 400


def test_unsaved_marks_are_laid_over_those_on_disk(author: TestClient) -> None:
    before = author.post("/api/draft", json=DRAFT).json()
    frame = before["panels"][0]["frame"]
    marks = author.get("/api/clips/dune-face-on/marks").json()
    x, y = (marks["marks"]["navel"].get(str(frame)) or marks["tracks"]["navel"][str(frame)])[:2]
    moved = author.post("/api/draft", json={**DRAFT, "marks": {"navel": {str(frame): [x + 40, y]}}}).json()
    assert moved["measures"][1]["number"] != before["measures"][1]["number"]
    assert author.get("/api/clips/dune-face-on/marks").json() == marks, "nothing is written"
    gone = author.post("/api/draft", json={**DRAFT, "marks": {"navel": {str(frame): None}}}).json()
    assert {"mark": "navel", "placed": None}.items() <= next(
        one for one in gone["wanted"] if (one["mark"], one["frame"]) == ("navel", frame)
    ).items()


def test_a_mistake_is_reported_at_its_line_and_column_in_the_draft(author: TestClient) -> None:
    answer = author.post(
        "/api/draft", json={**DRAFT, "text": "at: impact\ndraw:\n  - tilt: [navel, c7x]\n"}
    ).json()
    problem = answer["problems"][0]
    assert (problem["line"], problem["column"]) == (3, 19) and "c7" in problem["nearest"]


def test_a_text_that_closes_its_fence_is_still_one_block(author: TestClient) -> None:
    answer = author.post("/api/draft", json={**DRAFT, "text": "at: impact\n```\n```frame\nat: top\n"}).json()
    assert answer["problems"] and len(answer["panels"]) <= 1


def test_a_lessons_figures_say_which_marks_they_want(site: Path, author: TestClient) -> None:
    block = "```frame\nid: late\nat: 5\ndraw:\n  - angle: [pelvis, lead-knee, lead-ankle]\n```\n"
    lesson = f"---\ntitle: T\ndate: 2026-11-23\nclip: dune-face-on\ndraft: true\n---\n\n{block}"
    (site / "lessons" / "wants.md").write_text(lesson, encoding="utf-8")
    found = author.get("/api/lessons/wants/wanted").json()
    wanted = {one["mark"]: one["placed"] for one in found["wanted"]}
    assert list(wanted)[:2] == ["trail-hip", "lead-hip"], "a middle is its marks"
    gaps = sum(placed is None for placed in wanted.values())
    assert gaps and found["figures"] == [
        {"id": "late", "numeral": "I", "kind": "frame", "line": 8, "wanting": gaps}
    ]


def test_a_plan_asks_for_the_marks_that_it_draws_and_says_what_it_is_without(author: TestClient) -> None:
    """Of a clip without a second view there is no plan, and no picture either."""
    asked = {**DRAFT, "kind": "plan", "text": "frames: [setup, impact]\n"}
    found = author.post("/api/draft", json=asked).json()
    assert found["panels"] == []
    assert "without a second view" in " ".join(str(one) for one in found["problems"])
    wanted = {one["mark"] for one in found["wanted"]}
    assert {"lead-hip", "trail-shoulder", "lead-toe", "implement-grip", "implement-head"} <= wanted
    assert len({one["frame"] for one in found["wanted"]}) == 2
