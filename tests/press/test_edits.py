"""After any edit a press makes what a press from nothing makes, and makes again what depends on the edit."""

from __future__ import annotations

import re
import shutil
from collections.abc import Callable, Iterable
from pathlib import Path

import pytest

from lessonpress.figures import BoundSite
from lessonpress.press import schedule, spare
from lessonpress.press.cache import Cache
from lessonpress.press.file_hashes import FileHashes
from lessonpress.press.progress import Silent
from lessonpress.press.run import Pressed, press
from lessonpress.press.schedule import Schedule
from lessonpress.press.spare import Spare
from lessonpress.press.steps.dockets import Dockets
from lessonpress.press.steps.inputs import Inputs, PressOptions
from lessonpress.press.steps.last import standing
from lessonpress.press.steps.shared import Shared
from lessonpress.press.steps.works import Works
from tests.conftest import Rewrite
from tests.press import edits
from tests.press.conftest import Edited
from tests.press.trial import trial

STEPS = 5  # in the run of the tests; `python -m tests.press.trial` makes sixty and more


def test_a_site_edited_at_random_is_pressed_as_from_nothing(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """With its spare (`press/spare.py`) and, where that was taken away, by linking what is as it was."""
    took: list[bool] = []
    real, kept = Spare.taken, tmp_path / ".out.spare"

    def taken(one: Spare, aside: Path) -> bool:
        took.append(real(one, aside) and one.target.name == "out")
        return took[-1]

    monkeypatch.setattr(spare, "WORTH_IT", 1)
    monkeypatch.setattr(Spare, "taken", taken)
    steps = []
    for step in trial(tmp_path, edits.make, STEPS, seed=3):
        steps.append(step)
        assert not step.wrong
        assert standing(kept) == standing(tmp_path / "out")
        if len(steps) % 3 == 0:
            shutil.rmtree(kept)
    assert any(step.again.redone for step in steps)
    assert 2 <= sum(took) < STEPS


@pytest.fixture(scope="module")
def pressed_once(edited: Edited, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A site that was pressed, moved since; its tests change it and change it back."""
    return Path(shutil.copytree(edited.root, tmp_path_factory.mktemp("moved") / "notebook"))


def _press(root: Path) -> Pressed:
    return press(root, root / "build" / "site", Silent(), own_themes=True, workers=1)


def _redone(root: Path, path: str, change: Callable[[str], str]) -> set[str]:
    """What is made again for a change of a file, which is then undone."""
    place = root / path
    text = place.read_text(encoding="utf-8")
    place.write_text(change(text), encoding="utf-8")
    assert place.read_text(encoding="utf-8") != text
    redone = _press(root).redone
    place.write_text(text, encoding="utf-8")
    undone = _press(root)
    assert undone.redone == () and undone.summary is not None  # what was undone is found again
    assert {one.because for one in redone} == {path}
    return {one.product for one in redone}


def test_a_word_of_a_lesson_makes_that_lesson_again_and_its_page(pressed_once: Path) -> None:
    redone = _redone(pressed_once, "lessons/one.md", lambda text: text.replace("All about", "All of"))
    assert redone == {
        "lesson one read",
        "the head of lesson one",
        "the links of lessons/one.md",
        "lesson one bound",
        "lesson one looked over",
        "lesson one looked at",
        "the one number of lesson one",
        "the terms of lesson one",
        "the page of one",
        "the card of one",
        "the list of one for browsers",
        "what browsers keep",
        "lesson one for feeds",
        "the feeds",
        "the feeds of topic hub",
        "what of one is searched",
        "the index of 2026 for searching",
    }


def test_the_meaning_of_a_term_makes_the_pages_again_that_explain_it(pressed_once: Path) -> None:
    redone = _redone(
        pressed_once, "glossary.yaml", lambda text: text.replace("How the hands", "How both hands")
    )
    assert {one for one in redone if one.startswith("the page of")} == {
        "the page of one",
        "the page of two",
        "the page of three",
    }
    assert not any("measured" in one for one in redone)


def test_a_title_makes_the_pages_again_that_print_it(pressed_once: Path) -> None:
    redone = _redone(pressed_once, "lessons/two.md", lambda text: text.replace("title: Lesson", "title: Les"))
    pages = {one for one in redone if one.startswith("the page of ") and "topic" not in one}
    assert pages == {"the page of one", "the page of two", "the page of three", "the page of months"}
    assert "lesson three measured" not in redone and "the pictures of one" not in redone


def test_a_mark_makes_the_lessons_of_its_clip_again(pressed_once: Path) -> None:
    def moved(text: str) -> str:
        at = text.index("c7:")
        number = text.index("[", at) + 1
        return (
            text[:number] + "1" + text[number:] if text[number] != "1" else text[:number] + text[number + 1 :]
        )

    place = f"clips/{edits.OTHER}/marks.yaml"
    redone = _redone(pressed_once, place, moved)
    assert "lesson two measured" in redone and "lesson three measured" not in redone


def test_a_mark_moved_by_less_than_is_printed_makes_no_list_of_words_again(pressed_once: Path) -> None:
    def moved(text: str) -> str:
        """Each mark, by a hundredth of a px."""
        return re.sub(r"\[([\d.]+)", lambda x: f"[{float(x[1]) + 0.01:.2f}", text)

    redone = _redone(pressed_once, f"clips/{edits.CLIP}/marks.yaml", moved)
    assert {"the entry of lesson one", "the row of lesson one in lists", "the home page"} <= redone
    assert "the archive" not in redone


def test_a_file_that_is_touched_makes_nothing_again(pressed_once: Path) -> None:
    for place in pressed_once.rglob("*"):
        if place.is_file() and "build" not in place.parts:
            place.touch()
    assert _press(pressed_once).redone == ()


def test_a_template_makes_the_pages_again_that_use_it(pressed_once: Path) -> None:
    redone = _redone(pressed_once, "themes/own/templates/archive.html", lambda text: text + "<!-- -->\n")
    assert "the archive" in redone
    assert not any(one.startswith("the page of") or "read" in one for one in redone)


@pytest.mark.parametrize("template", ["lesson.html", "parts/use.html"])
def test_after_a_press_from_nothing_pages_are_known_to_be_made_of_their_templates(
    pressed_once: Path, template: str
) -> None:
    """What a page asks for while it is rendered, made from templates itself, takes none away from it."""
    redone = _redone(pressed_once, f"themes/own/templates/{template}", lambda text: text + "<!-- -->\n")
    assert {f"the page of {name}" for name in ("one", "two", "three")} <= redone


def test_a_press_that_shares_with_an_earlier_one_notes_its_own_templates(pressed_once: Path) -> None:
    """As those of the desk do."""
    lesson, shared = pressed_once / "lessons" / "one.md", Shared()
    cache = Cache(pressed_once / "build" / "cache")
    text, page = lesson.read_text(encoding="utf-8"), ("page", "one", "")
    for number in range(2):
        lesson.write_text(f"{text}\nAnd {number}.\n", encoding="utf-8")
        inputs = Inputs(pressed_once, PressOptions(own_themes=True), FileHashes.kept(cache))
        works = Works(pressed_once, cache, inputs, Dockets.kept(cache), shared=shared)
        made_of = [key for key, _ in works.dockets.uses.in_order(works.docket(page).made_of)]
        assert page in works.redone
        assert ("file", "themes/own/templates/lesson.html", "") in made_of
    lesson.write_text(text, encoding="utf-8")


def test_pictures_that_are_taken_in_parts_are_those_that_are_taken_in_one_go(
    pressed_once: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A large archive's lessons are not all held in memory for them."""
    assert _press(pressed_once).summary is not None
    monkeypatch.setattr(schedule, "_AT_ONCE", 1)
    parts: list[list[str]] = []
    bound = Schedule.bound

    def noting(site: Schedule, lessons: Iterable[str]) -> BoundSite:
        parts.append(list(lessons))
        return bound(site, parts[-1])

    monkeypatch.setattr(Schedule, "bound", noting)
    root = tmp_path / "notebook"
    shutil.copytree(pressed_once, root, ignore=shutil.ignore_patterns("build"))
    press(root, tmp_path / "out", Silent(), own_themes=True, workers=1)
    assert len(parts) > 1
    names = [
        sorted(path.name for path in at.rglob("*.webp"))
        for at in (tmp_path / "out", pressed_once / "build" / "site")
    ]
    assert names[0] == names[1]  # named by what they are made from


def test_what_two_presses_say_of_a_site_is_the_same(pressed_once: Path, rewrite: Rewrite) -> None:
    """Warnings come with what they are of, made again or not."""
    lesson = pressed_once / "lessons" / "two.md"
    rewrite(lesson, "date: 2026-02-12", "date: 2026-02-12\nupdated: 2999-02-12")
    first = _press(pressed_once)
    again = _press(pressed_once)
    assert [one.wrong for one in first.problems.collected] == ["2999-02-12 is in the future"]
    assert again.problems.collected == first.problems.collected
    rewrite(lesson, "\nupdated: 2999-02-12", "")


def test_what_is_made_again_because_of_what_was_found_again_names_what_was_undone(pressed_once: Path) -> None:
    """The list of pages is known from before, and the pages with it in their heads are not any more."""
    page, site = pressed_once / "pages" / "again.md", pressed_once / "site.yaml"
    text = site.read_text(encoding="utf-8")
    page.write_text("---\ntitle: Again\n---\n\nWords.\n", encoding="utf-8")
    _press(pressed_once)
    site.write_text(text.replace("title: ", "title: Once "), encoding="utf-8")
    assert {one.because for one in _press(pressed_once).redone} == {"site.yaml"}
    page.unlink()
    redone = _press(pressed_once).redone
    site.write_text(text, encoding="utf-8")
    _press(pressed_once)
    assert "the page of one" in {one.product for one in redone}
    assert {one.because for one in redone} == {"what lies in pages"}
