"""The handbook's first lesson, followed to the letter: its commands, its card, its lesson."""

from __future__ import annotations

import re
import shlex
from pathlib import Path

import numpy as np
import pytest

from lessonpress.cli.commands import lessonpress
from tests.studio import strip
from tests.studio.demo import ROOT
from tests.studio.film import encode

PAGE = (ROOT / "content" / "lessons" / "handbook-first-lesson.md").read_text(encoding="utf-8")
BLOCK = re.compile(r"^(?P<fence>`{3,})(?P<kind>\w+)\n(?P<text>.*?)^(?P=fence)$", re.MULTILINE | re.DOTALL)
MARKS = """\
navel: {12: [72, 90], 96: [66, 90]}
stick-top: {12: [20, 60]}
stick-foot: {12: [20, 120]}
"""  # what is clicked at the desk


class Follower:
    """Does what the page says, block by block, and keeps what was printed."""

    def __init__(self, folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
        self.site = folder / "notebook"
        self.capsys = capsys
        self.said: dict[str, str] = {}

    def does(self, kind: str, text: str) -> None:
        if kind == "sh":
            for line in text.splitlines():
                self.asks(line)
        elif kind == "yaml" and text.startswith("---"):
            self.lesson.write_text(text, encoding="utf-8")
        elif kind == "yaml":
            self.answers(text)
        elif kind == "example":
            self.lesson.write_text(self.lesson.read_text(encoding="utf-8") + "\n" + text, encoding="utf-8")

    @property
    def lesson(self) -> Path:
        named = re.search(r"`(lessons/[a-z-]+\.md)`", PAGE)
        assert named, "the page does not say what the file is called"
        return self.site / named[1]

    def asks(self, line: str) -> None:
        program, command, *words = shlex.split(line)
        assert program == "lessonpress"
        if command == "desk":
            (self.site / "clips" / "swing" / "marks.yaml").write_text(MARKS, encoding="utf-8")
            return
        if line == "lessonpress press notebook" and self.lesson.is_file():
            text = self.lesson.read_text(encoding="utf-8")
            self.lesson.write_text(text.replace("draft: true\n", ""), encoding="utf-8")
        lessonpress([command, *words], standalone_mode=False)
        self.said[line] = self.capsys.readouterr().out

    def answers(self, text: str) -> None:
        card = self.site / "clips" / "swing" / "clip.yaml"
        written = card.read_text(encoding="utf-8")
        for key in re.findall(r"^(\w+):", text, re.MULTILINE):
            written = re.sub(rf"^{key}:\n", "", written, flags=re.MULTILINE)
        card.write_text(written + text, encoding="utf-8")


def test_the_first_lesson_followed_to_the_letter_gives_its_page(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.chdir(tmp_path)
    encode(tmp_path / "swing.mp4", [strip.stamp(np.full((180, 144, 3), 99, np.uint8), n) for n in range(200)])
    follower = Follower(tmp_path, capsys)
    for block in BLOCK.finditer(PAGE):
        follower.does(block["kind"], block["text"])
    said = follower.said
    assert "pictures 84 to 107 of swing" in said["lessonpress sheet swing --around 96 --site notebook"]
    assert "navel-back" in said["lessonpress measure navel --site notebook"]
    assert "in ±" in said["lessonpress explain navel navel-back --site notebook"]
    assert (
        "draft: notebook/build/drafts/lessons/navel/index.html" in said["lessonpress press notebook --drafts"]
    )
    draft = (follower.site / "build/drafts/lessons/navel/index.html").read_text(encoding="utf-8")
    assert ">Draft, not published<" in draft
    assert '<meta name="robots" content="noindex">' in draft
    assert (
        "navel" not in (follower.site / "build/drafts/archive/index.html").read_text(encoding="utf-8").lower()
    )
    page = (follower.site / "build/site/lessons/navel/index.html").read_text(encoding="utf-8")
    assert "Draft" not in page
