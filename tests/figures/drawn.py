"""A site of one lesson on one clip, and everything that is reported of it. Nothing of the clip is decoded."""

from __future__ import annotations

from pathlib import Path

from lessonpress.figures.plates import BoundLesson, BoundSite
from lessonpress.footage.camera.study import Study
from lessonpress.manuscript import read_site
from lessonpress.records.problem import Problems, problem_text
from tests.figures.bound import bind_site
from tests.figures.films import index_of

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


def told_of(
    root: Path,
    body: str,
    *,
    card: str = CARD + SCALE,
    marks: str = MARKS,
    site: str = SITE,
    front: str = FRONT,
    beside: str = "",
) -> str:
    """Every problem in order, in print, of a site written to `root`. The body begins in line 6.

    beside: the card of a second clip, `along`, whose marks are the same; none where it is empty.
    """
    _, problems = _bound(root, front + body, card, marks, site, beside)
    return "\n".join(problem_text(problem) for problem in problems.listed())


def lesson_of(root: Path, body: str, *, card: str = CARD + SCALE) -> BoundLesson:
    """The lesson of such a site, bound; its body must be without errors."""
    bound, problems = _bound(root, FRONT + body, card, MARKS, SITE)
    assert not problems.errors, [problem_text(problem) for problem in problems.in_order()]
    return bound.lessons[0]


def _bound(
    root: Path, lesson: str, card: str, marks: str, site_file: str, beside: str = ""
) -> tuple[BoundSite, Problems]:
    (root / "lessons").mkdir(parents=True)
    (root / "site.yaml").write_text(site_file)
    cards = {"dune": card, "along": beside}
    clips = [name for name, card in cards.items() if card]
    for name in clips:
        clip = root / "clips" / name
        clip.mkdir(parents=True)
        (clip / "clip.yaml").write_text(cards[name])
        (clip / "marks.yaml").write_text(marks)
        (clip / f"{name}.mp4").write_bytes(b"not decoded here")
    (root / "lessons" / "lesson.md").write_text(lesson + "\n")
    site, problems = read_site(root)
    assert site is not None
    bound, found = bind_site(site, {name: Study(index_of(300, (1280, 720))) for name in clips})
    problems.extend(found.collected)
    return bound, problems
