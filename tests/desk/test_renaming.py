"""A renamed lesson is found where it was and where it is, and every link goes along."""

from __future__ import annotations

from pathlib import Path

import pytest
from starlette.testclient import TestClient

from lessonpress.manuscript import read_site
from tests.desk.conftest import files_of

OTHER = """\
---
title: Other
date: 2026-11-20
---

See [the pelvis](pelvis.md), [again](./pelvis.md#top), not [kinds](kinds.md), and the word pelvis.md.

[last]: pelvis.md "The pelvis"

And [by name][last].
"""


@pytest.fixture
def linked(site: Path) -> Path:
    (site / "lessons" / "other.md").write_text(OTHER, encoding="utf-8")
    about = "---\ntitle: About\n---\n\nBegin with [this](../lessons/pelvis.md).\n"
    (site / "pages" / "about.md").write_text(about, encoding="utf-8")
    return site


def test_links_of_lessons_and_pages_lead_to_the_new_name(author: TestClient, linked: Path) -> None:
    answer = author.post("/api/lessons/pelvis/name", json={"to": "the-hips"}).json()
    assert answer["name"] == "the-hips"
    assert answer["changed"] == ["lessons/other.md", "pages/about.md"]
    other = (linked / "lessons" / "other.md").read_text()
    assert other == OTHER.replace("(pelvis.md)", "(the-hips.md)").replace(
        "(./pelvis.md#top)", "(the-hips.md#top)"
    ).replace(": pelvis.md", ": the-hips.md")
    assert "(../lessons/the-hips.md)" in (linked / "pages" / "about.md").read_text()
    assert not (linked / "lessons" / "pelvis.md").exists()
    site, problems = read_site(linked)
    assert site is not None
    renamed = site.lesson("the-hips")
    assert renamed is not None
    assert renamed.former == ("lessons/pelvis",)
    assert [one.wrong for one in problems.errors] == []


def test_charts_over_the_lesson_follow(author: TestClient, linked: Path) -> None:
    chart = "```progress\nmeasure: navel-back\nover: [kinds, 'pelvis', pelvis]\n```\n"
    with (linked / "lessons" / "kinds.md").open("a") as file:
        file.write(f"\n{chart}")
    answer = author.post("/api/lessons/pelvis/name", json={"to": "the-hips"}).json()
    assert "lessons/kinds.md" in answer["changed"]
    text = (linked / "lessons" / "kinds.md").read_text()
    assert "over: [kinds, 'the-hips', the-hips]" in text


def test_the_name_before_is_kept_beside_those_before_it(author: TestClient, linked: Path) -> None:
    author.post("/api/lessons/pelvis/name", json={"to": "hips"})
    author.post("/api/lessons/hips/name", json={"to": "seat"})
    site, _ = read_site(linked)
    assert site is not None
    seat = site.lesson("seat")
    assert seat is not None
    assert seat.former == ("lessons/pelvis", "lessons/hips")


def test_a_draft_was_never_anywhere(author: TestClient, linked: Path) -> None:
    file = linked / "lessons" / "pelvis.md"
    file.write_text(file.read_text().replace("---\n", "---\ndraft: true\n", 1))
    assert author.post("/api/lessons/pelvis/name", json={"to": "hips"}).status_code == 200
    assert "former" not in (linked / "lessons" / "hips.md").read_text()


@pytest.mark.parametrize(("to", "status"), [("kinds", 409), ("../away", 404), ("", 404), ("pelvis", 409)])
def test_a_name_that_is_taken_or_none_changes_nothing(
    author: TestClient, linked: Path, to: str, status: int
) -> None:
    before = files_of(linked)
    assert author.post("/api/lessons/pelvis/name", json={"to": to}).status_code == status
    assert files_of(linked) == before


def test_a_front_matter_that_cannot_be_edited_is_left_alone(author: TestClient, linked: Path) -> None:
    file = linked / "lessons" / "pelvis.md"
    file.write_text(file.read_text().replace("---\n", "--- \n", 1))
    before = files_of(linked)
    refused = author.post("/api/lessons/pelvis/name", json={"to": "hips"})
    assert refused.status_code == 422
    assert files_of(linked) == before
