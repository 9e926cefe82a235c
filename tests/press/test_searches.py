"""What of a site can be searched: what its author wants, and never what is for one person or held back."""

from __future__ import annotations

import gzip
import re
from collections.abc import Callable
from datetime import date
from pathlib import Path

import pytest

from lessonpress.outlets import can_index
from lessonpress.press.progress import Silent
from lessonpress.press.run import press

LESSONS = {
    "hips": "",
    "hub": "",
    "unlisted": "listed: false\n",
    "private": "for: Marina\naddress: q7m4zr9xw2kb8tnp3vhc6yjd5f\n",
    "draft": "draft: true\n",
    "held": "",
}
LISTED = {"lessons/hips/index.html", "lessons/hub/index.html"}
ALL = LISTED | {"lessons/unlisted/index.html", "pages/about/index.html"}


@pytest.fixture
def site(tmp_path: Path) -> Path:
    assert can_index(), "the package pagefind-bin is not installed"
    for folder in ("lessons", "pages"):
        (tmp_path / folder).mkdir()
    for name, front in LESSONS.items():
        write(tmp_path, name, front)
    (tmp_path / "pages" / "about.md").write_text("---\ntitle: About\n---\n\nWe.\n", encoding="utf-8")
    choose(tmp_path, "listed")
    return tmp_path


def write(site: Path, name: str, front: str, words: str = "Words.") -> None:
    day = "2099-01-01" if name == "held" else "2026-01-02"
    text = f"---\ntitle: On {name}\ndate: {day}\n{front}---\n\n{words}\n"
    (site / "lessons" / f"{name}.md").write_text(text, encoding="utf-8")


def choose(site: Path, searched: str) -> None:
    (site / "site.yaml").write_text(f"title: Notes\nsearch: {searched}\n", encoding="utf-8")


def pressed(site: Path) -> tuple[Path, list[str]]:
    """The pressed folder, and what was made again."""
    done = press(site, site / "build" / "site", Silent(), drafts=True, as_of=date(2026, 11, 29))
    assert done.summary is not None, done.problems.errors
    return site / "build" / "site", [one.product for one in done.redone]


def found_in(out: Path) -> set[str]:
    """The pages that the index leads to."""
    fragments = (out / "search" / "records").glob("*/fragment/*")
    texts = [gzip.decompress(one.read_bytes()).decode() for one in fragments]
    return {match[1] for text in texts if (match := re.search(r'"url":"/([^"]+)"', text))}


@pytest.mark.parametrize(("searched", "expected"), [("listed", LISTED), ("all", ALL)])
def test_what_can_be_found_is_what_the_author_chose(site: Path, searched: str, expected: set[str]) -> None:
    choose(site, searched)
    out, _ = pressed(site)
    assert found_in(out) == expected
    assert ">Search</a>" in (out / "index.html").read_text(encoding="utf-8")
    beside = {str(path.relative_to(out)) for path in out.rglob("found.json")}
    lessons = {page for page in expected if page.startswith("lessons/")}
    assert beside == {page.replace("index.html", "found.json") for page in lessons}


def test_a_site_that_is_not_to_be_searched_has_no_page_and_no_index_for_it(site: Path) -> None:
    choose(site, "none")
    out, _ = pressed(site)
    assert not (out / "search").exists()
    assert ">Search</a>" not in (out / "index.html").read_text(encoding="utf-8")


def test_a_machine_without_the_indexer_presses_the_site_without_a_search(
    site: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("lessonpress.press.steps.searches.can_index", lambda: False)
    out, _ = pressed(site)
    assert not (out / "search").exists()


def test_a_word_in_a_lesson_leaves_the_indexes_of_other_years_as_they_are(site: Path) -> None:
    older = "---\ntitle: Once\ndate: 2024-05-06\n---\n\nWords.\n"
    (site / "lessons" / "once.md").write_text(older, encoding="utf-8")
    out, made = pressed(site)
    indexes = {f"the index of {year} for searching" for year in (2024, 2026)}
    assert indexes <= {*made}
    assert found_in(out) == LISTED | {"lessons/once/index.html"}
    change_listed(site)
    _, again = pressed(site)
    assert indexes & {*again} == {"the index of 2026 for searching"}


def change_unlisted(site: Path) -> None:
    write(site, "unlisted", LESSONS["unlisted"], "Other words.")


def change_listed(site: Path) -> None:
    write(site, "hips", "", "Other words.")


@pytest.mark.parametrize(("change", "anew"), [(change_unlisted, False), (change_listed, True)])
def test_the_index_is_made_again_only_when_what_is_searched_has_changed(
    site: Path, change: Callable[[Path], None], anew: bool
) -> None:
    pressed(site)
    change(site)
    _, again = pressed(site)
    assert ("the index of 2026 for searching" in again) is anew


def test_a_lesson_that_was_taken_back_is_found_no_more(site: Path) -> None:
    pressed(site)
    (site / "lessons" / "hub.md").unlink()
    out, _ = pressed(site)
    assert found_in(out) == {"lessons/hips/index.html"}
