"""What README shows of a lesson is what the press makes of it."""

from __future__ import annotations

import re
import shutil
from collections.abc import Iterator
from pathlib import Path
from xml.etree.ElementTree import Element

import html5lib
import pytest
from PIL import Image

from lessonpress.press.progress import Silent
from lessonpress.press.run import press
from tests.browser.photographs import README_LESSON, README_PICTURE, README_SIZE
from tests.studio.demo import ROOT

README = (ROOT / "README.md").read_text(encoding="utf-8")
SHOWN = re.compile(r"^````markdown\n(.*?)^````\n\n((?:> [^\n]*\n)+)", re.MULTILINE | re.DOTALL)
HEAD = "---\ntitle: As README shows it\ndate: 2026-11-25\nclip: dune-face-on\n---\n\n"


@pytest.fixture(scope="module")
def shown() -> tuple[str, str]:
    """The lines of a lesson, and the sentence that they become."""
    found = SHOWN.search(README)
    assert found is not None
    return found[1], " ".join(line.removeprefix("> ") for line in found[2].splitlines())


def test_the_ten_lines_become_the_sentence_that_readme_prints(shown: tuple[str, str], tmp_path: Path) -> None:
    lines, sentence = shown
    assert len(lines.splitlines()) == 10
    root = _site_of_one(HEAD + lines, tmp_path / "notebook")
    done = press(root, tmp_path / "site", Silent())
    assert done.summary is not None, done.problems.errors
    page = html5lib.parse(
        (tmp_path / "site/lessons/shown/index.html").read_text(encoding="utf-8"), namespaceHTMLElements=False
    )
    assert sentence in [_words("".join(_shown(paragraph))) for paragraph in page.iter("p")]


def _shown(element: Element) -> Iterator[str]:
    """The text of an element as a page in inches shows it."""
    if element.get("class") != "cm":
        yield element.text or ""
        for inner in element:
            yield from _shown(inner)
            yield inner.tail or ""


def _site_of_one(lesson: str, root: Path) -> Path:
    """The demo's settings and its one clip with a single lesson."""
    content = ROOT / "content"
    shutil.copytree(content / "clips/dune-face-on", root / "clips/dune-face-on")
    for name in ("site.yaml", "glossary.yaml"):
        shutil.copy(content / name, root / name)
    (root / "lessons").mkdir()
    (root / "lessons/shown.md").write_text(lesson, encoding="utf-8")
    return root


def _words(text: str) -> str:
    return " ".join(text.split())


def test_the_photograph_is_there_and_of_a_lesson_of_the_demo() -> None:
    assert f"({README_PICTURE.relative_to(ROOT).as_posix()})" in README
    assert (ROOT / "content" / Path(README_LESSON).parent).with_suffix(".md").is_file()
    with Image.open(README_PICTURE) as picture:
        assert picture.size == README_SIZE


@pytest.mark.parametrize("target", sorted(set(re.findall(r"\]\(([^)#:]+)\)", README))))
def test_a_link_of_readme_leads_to_a_file(target: str) -> None:
    assert (ROOT / target).is_file()
