"""Every document of mistakes in meaning: a lesson's blocks as written, and what is told of them.

A case is a heading, a block of four backticks with the lesson's body, and a text block with every problem in
order. The clip `dune` has 300 pictures of 1280 × 720 px and the events and marks of `CARD` and `MARKS` below.
The lesson's body begins in line 6 of its file. The documents are found by listing the folder.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from pathlib import Path

import pytest

from lessonpress.figures import bind_site
from lessonpress.footage.study import Study
from lessonpress.manuscript import read_site
from lessonpress.records.problem import tell
from tests.figures.films import index_of

HERE = Path(__file__).parent / "mistakes"
CASE = re.compile(
    r"^## (?P<title>.+?)\n+````\n(?P<body>.*?)\n````\n+```text\n(?P<told>.*?)\n?```$", re.M | re.S
)
SITE = """\
title: Drawn
ranges:
  lean: {range: 25..35 deg away, source: common practice}
sets:
  usual:
    - vertical: navel
"""
CARD = """\
video: dune.mp4
view: face-on
hand: right
source: {kind: own, credit: Drawn, licence: CC BY 4.0}
people: []
events: {setup: 12, top: 192, impact: 252}
camera: {distance: 14 ft, within: 6 in, still: true}
room: [stick-top, stick-foot]
plumb: [[stick-top, stick-foot]]
"""
SCALE = "scale:\n  - {between: [stick-top, stick-foot], length: 36 in, within: 0.1 in}\n"
MARKS = """\
navel: {12: [640, 390], 192: [610, 390], 252: [700, 385]}
c7: {12: [632, 260], 252: [630, 262]}
stick-top: {12: [210, 300]}
stick-foot: {12: [210, 480]}
"""
FRONT = "---\ntitle: A lesson\ndate: 2026-11-23\nclip: dune\n---\n"


def cases() -> Iterator[object]:
    for path in sorted(HERE.glob("*.md")):
        text = path.read_text(encoding="utf-8")
        found = list(CASE.finditer(text))
        assert len(found) == text.count("\n## "), f"{path.name}: a case is not written as a case is"
        for case in found:
            line = text.count("\n", 0, case.start()) + 1
            yield pytest.param(case["body"], case["told"], "scaleless" in path.name, id=f"{path.name}:{line}")


@pytest.mark.parametrize(("body", "told", "scaleless"), list(cases()))
def test_a_mistake_is_told_as_its_document_says(body, told, scaleless, tmp_path):
    clip = tmp_path / "clips" / "dune"
    clip.mkdir(parents=True)
    (tmp_path / "lessons").mkdir()
    (tmp_path / "site.yaml").write_text(SITE)
    (clip / "clip.yaml").write_text(CARD + ("" if scaleless else SCALE))
    (clip / "marks.yaml").write_text(MARKS)
    (clip / "dune.mp4").write_bytes(b"not decoded here")
    (tmp_path / "lessons" / "lesson.md").write_text(FRONT + body + "\n")
    site, problems = read_site(tmp_path)
    assert site is not None
    _, found = bind_site(site, {"dune": Study(index_of(300, (1280, 720)))})
    problems.extend(found.found)
    assert "\n".join(tell(problem) for problem in problems.in_order()) == told
