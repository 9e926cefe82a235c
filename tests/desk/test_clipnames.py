"""A renamed clip is found by every lesson and card that named it, and no number changes."""

from __future__ import annotations

from pathlib import Path

import pytest
from starlette.testclient import TestClient

from tests.conftest import Rewrite
from tests.desk.conftest import files_of
from tests.reading import read_and_bind

CLIP, NAME = "dune-face-on", "/api/clips/dune-face-on/name"
NAMING = """\
---
title: Two of them
date: 2026-11-20
clip: "dune-face-on"
measure: lean.dune-face-on
---

It leans {lean.dune-face-on:size}, the other {lean.shingle-face-on}. The word dune-face-on is a word.

```pair
id: two
at: impact
of: [{clip: dune-face-on, at: top}, {clip: shingle-face-on}]
draw:
  - line: [navel, c7]
```

```progress
id: over
at: impact
clips:
  - dune-face-on
  - shingle-face-on
draw:
  - tilt: [navel, c7]
    as: lean
caption: >-
  First {lean.dune-face-on},
  then {lean.shingle-face-on}.
```
"""


@pytest.fixture
def naming(site: Path, rewrite: Rewrite) -> Path:
    (site / "lessons" / "naming.md").write_text(NAMING, encoding="utf-8")
    for name, day in ((CLIP, "2026-10-01"), ("shingle-face-on", "2026-10-08")):
        card = site / "clips" / name / "clip.yaml"
        text = card.read_text(encoding="utf-8")
        card.write_text(f"{text}\nfilmed_on: {day}\n" if "filmed_on" not in text else text, encoding="utf-8")
    return site


def _numbers(site: Path, clip: str) -> dict[str, float | None]:
    """Every number of the site, the clip's name in their ids left out."""
    read = read_and_bind(site)
    assert [one.wrong for one in read.problems.errors] == [] and read.bound is not None
    return {
        f"{lesson.lesson.name} {name.replace(clip, 'CLIP')}": measure.value
        for lesson in read.bound.lessons
        for name, measure in lesson.measures.items()
    }


def test_every_figure_brace_and_front_matter_follows_and_numbers_stay(
    author: TestClient, naming: Path
) -> None:
    before = _numbers(naming, CLIP)
    answer = author.post(NAME, json={"to": "dune-october"}).json()
    assert answer["clip"] == "dune-october"
    assert answer["changed"] == [f"lessons/{name}.md" for name in ("kinds", "naming", "pelvis")]
    text = (naming / "lessons" / "naming.md").read_text(encoding="utf-8")
    word = "The word dune-face-on is a word."
    assert word in text and CLIP not in text.replace(word, "")
    assert 'clip: "dune-october"\nmeasure: lean.dune-october\n' in text
    assert _numbers(naming, "dune-october") == before


def test_a_card_that_has_it_for_its_second_view_follows(author: TestClient, site: Path) -> None:
    card = site / "clips" / "shingle-face-on" / "clip.yaml"
    with card.open("a", encoding="utf-8") as file:
        file.write("second_view: dune-face-on  # the other camera\n")
    answer = author.post(NAME, json={"to": "dune"}).json()
    assert "clips/shingle-face-on/clip.yaml" in answer["changed"]
    assert "second_view: dune  # the other camera\n" in card.read_text(encoding="utf-8")


def test_a_name_that_is_no_plain_text_in_yaml_is_put_in_quotes(author: TestClient, naming: Path) -> None:
    before = _numbers(naming, CLIP)
    assert author.post(NAME, json={"to": "2026"}).status_code == 200
    assert 'clip: "2026"' in (naming / "lessons" / "pelvis.md").read_text(encoding="utf-8")
    assert _numbers(naming, "2026") == before


@pytest.mark.parametrize(
    ("to", "status"),
    [("shingle-face-on", 409), ("Shingle-Face-On", 409), ("../away", 404), ("", 404), (CLIP, 409)],
)
def test_a_name_that_is_taken_or_none_changes_nothing(
    author: TestClient, naming: Path, to: str, status: int
) -> None:
    before = files_of(naming)
    assert author.post(NAME, json={"to": to}).status_code == status
    assert files_of(naming) == before


def test_what_cannot_be_read_or_changed_is_said_and_nothing_changes(author: TestClient, naming: Path) -> None:
    lesson = naming / "lessons" / "naming.md"
    lesson.write_text(NAMING.replace("date: 2026-11-20", "date: soon"), encoding="utf-8")
    before = files_of(naming)
    refused = author.post(NAME, json={"to": "dune"})
    assert refused.status_code == 422 and "lessons/naming.md" in refused.json()["error"]["reason"]
    lesson.write_text(NAMING.replace('clip: "dune-face-on"', "clip: >-\n  dune-face-on"), encoding="utf-8")
    before = files_of(naming)
    refused = author.post(NAME, json={"to": "dune"})
    assert refused.status_code == 422 and "lessons/naming.md:4:7" in refused.json()["error"]["reason"]
    assert files_of(naming) == before
