"""A caution comes before the drill wherever it is read: page, letter in both forms, feed, paper card."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from lessonpress.press.letters import MailOptions, write_letters
from lessonpress.press.progress import Silent
from lessonpress.press.run import press

DRILL, OWN, GENERAL = "Turn until the hip touches", "Keep the mat dry", "Keep the space round you clear"
BOX = f"```drill\n1. {DRILL}.\n2. Ten times.\n```\n"
CAUTION = f"```caution\n{OWN}.\n```\n"
BODIES = {
    "before": (CAUTION + BOX, OWN),
    "right-below": (f"{BOX}\n{CAUTION}", OWN),
    "late": (f"{BOX}\nWords.\n\n{CAUTION}", GENERAL),
    "none": (BOX, GENERAL),
}


@pytest.fixture(scope="module")
def root(tmp_path_factory: pytest.TempPathFactory) -> Path:
    root = tmp_path_factory.mktemp("cautions") / "notebook"
    (root / "lessons").mkdir(parents=True)
    (root / "site.yaml").write_text("title: Notebook\nurl: https://example.org\n", encoding="utf-8")
    for name, (body, _) in BODIES.items():
        text = f"---\ntitle: {name}\ndate: 2026-11-02\n---\n\nWords.\n\n{body}"
        (root / "lessons" / f"{name}.md").write_text(text, encoding="utf-8")
    done = press(root, root / "build/site", Silent(), workers=1)
    assert done.summary is not None, done.problems.errors
    assert len(write_letters(root, BODIES, MailOptions(), Silent()).folders) == len(BODIES)
    return root


def words(path: Path) -> str:
    """What a file says, without tags and breaks of lines."""
    return " ".join(re.sub(r"<[^>]*>", " ", path.read_text(encoding="utf-8")).split())


@pytest.mark.parametrize("name", BODIES)
@pytest.mark.parametrize(
    "place",
    [
        "site/lessons/{}/index.html",
        "site/lessons/{}/card/index.html",
        "mail/{}/letter.html",
        "mail/{}/letter.txt",
        "mail/{}/preview.html",
    ],
)
def test_the_caution_is_read_first(root: Path, name: str, place: str) -> None:
    said = words(root / "build" / place.format(name))
    caution, drill = said.find(BODIES[name][1]), said.find(DRILL)
    assert -1 < caution < drill


def test_in_feeds_too(root: Path) -> None:
    for entry in (root / "build/site/feed.xml").read_text(encoding="utf-8").split("<entry>")[1:]:
        (name,) = re.findall(r"<title[^>]*>([\w-]+)</title>", entry)
        assert -1 < entry.find(BODIES[name][1]) < entry.find(DRILL)
