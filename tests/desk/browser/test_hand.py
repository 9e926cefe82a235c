"""Which mark comes in hand, in the order of an author's work: what a lesson needs, and nothing else."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
import yaml

from tests.desk.browser.conftest import Author

CLIP = "dune-face-on"
SETUP, TOP, IMPACT = 3, 26, 33  # frames of the drawn clip's events
WANTED = """\
---
title: Two marks
date: 2026-11-24
summary: What is wanted.
clip: dune-face-on
---

The navel by the top: {navel-back}. The lean at impact: {lean}.

```frame
id: top
at: top
draw:
  - shift: navel
    since: setup
    as: navel-back
  - note: c7
    text: high
```

```frame
id: impact
at: impact
draw:
  - tilt: [navel, c7]
    as: lean
```
"""

Lesson = Callable[[str], None]


@pytest.fixture
def lesson(own_site: Path) -> Iterator[Lesson]:
    """Writes a lesson `two-marks` on the drawn clip, whose navel and C7 are no longer placed."""
    place = own_site / "lessons" / "two-marks.md"

    def write(text: str) -> None:
        marks = own_site / "clips" / CLIP / "marks.yaml"
        placed = yaml.safe_load(marks.read_text(encoding="utf-8"))
        for mark in ("navel", "c7"):
            placed.pop(mark, None)
        marks.write_text(yaml.safe_dump(placed), encoding="utf-8")
        tracks = own_site / "clips" / CLIP / "tracks.csv"
        rows = tracks.read_text(encoding="utf-8").splitlines(keepends=True)
        tracks.write_text("".join(row for row in rows if "navel" not in row), encoding="utf-8")
        place.write_text(text, encoding="utf-8")

    yield write
    place.unlink(missing_ok=True)


def _hands(author: Author) -> list[str]:
    """What has been in hand since the clip was opened, as the frame says it: `Navel`, `no mark`."""
    told: list[str] = author.page.evaluate("window.hands")
    return told


def _watch_hands(author: Author) -> None:
    """Writes down from now on every mark that comes in hand."""
    author.page.evaluate(
        """() => {
            window.hands = [];
            const note = () => {
                const label = document.getElementById("frame")?.getAttribute("aria-label") ?? "";
                const hand = /; (.+) in hand/.exec(label)?.[1];
                if (hand && hand !== window.hands.at(-1)) window.hands.push(hand);
            };
            new MutationObserver(note).observe(document.body,
                { subtree: true, childList: true, attributes: true, attributeFilter: ["aria-label"] });
        }"""
    )


def _in_hand(author: Author, words: str) -> None:
    author.page.locator(".in-hand h3", has_text=words).wait_for()


def _open(author: Author, lesson: str = "two-marks") -> None:
    _watch_hands(author)
    author.page.evaluate(f"location.hash = '#/clip/{CLIP}?lesson={lesson}'")
    author.page.locator("#frame[data-shown]").wait_for()
    author.settled()


def test_of_a_lesson_with_two_wanted_marks_nothing_else_is_ever_in_hand(
    author: Author, own_site: Path, lesson: Lesson
) -> None:
    lesson(WANTED)
    _open(author)
    steps = [(SETUP, "Navel"), (TOP, "C7"), (TOP, "Navel"), (IMPACT, "Navel"), (IMPACT, "C7")]
    placed = []
    slip = author.page.locator(".in-hand")
    while not slip.get_by_text("Every mark that the lesson wants is placed").is_visible():
        if slip.get_by_text("Nothing more is wanted in this picture").is_visible():
            author.key("w")
        else:
            placed.append((author.frame, slip.locator("h3").inner_text()))
            author.click_at(200 + 10 * len(placed), 150)
        author.settled()
        assert len(placed) <= len(steps), placed
    assert sorted(placed) == sorted(steps)
    assert set(_hands(author)) == {"Navel", "C7", "no mark"}
    before = (own_site / "clips" / CLIP / "marks.yaml").read_text(encoding="utf-8")
    author.click_at(310, 190)  # with nothing in hand a click writes nothing, and says why
    author.page.locator("#told", has_text="No mark is in hand").wait_for()
    author.settled()
    assert (own_site / "clips" / CLIP / "marks.yaml").read_text(encoding="utf-8") == before
    marks = yaml.safe_load(before)
    assert {mark: set(marks[mark]) for mark in ("navel", "c7")} == {
        "navel": {SETUP, TOP, IMPACT},
        "c7": {TOP, IMPACT},
    }


def test_the_same_mark_at_the_next_instant_comes_before_the_hand_is_empty(
    author: Author, lesson: Lesson
) -> None:
    lesson(WANTED.replace("  - note: c7\n    text: high\n", ""))
    _open(author)
    author.sees_frame(SETUP)
    _in_hand(author, "Navel")
    author.click_at(300, 200)
    author.sees_frame(TOP)
    _in_hand(author, "Navel")
    author.click_at(300, 210)
    author.sees_frame(IMPACT)
    _in_hand(author, "Navel")
    author.click_at(300, 220)
    _in_hand(author, "C7")  # the other one that is wanted in this picture
    author.click_at(300, 120)
    _in_hand(author, "Nothing")
    assert author.frame == IMPACT


def test_of_a_clip_without_a_lesson_only_what_the_author_takes_is_in_hand(
    author: Author, own_site: Path
) -> None:
    _watch_hands(author)
    author.page.evaluate(f"location.hash = '#/clip/{CLIP}'")
    author.page.locator("#frame[data-shown]").wait_for()
    _in_hand(author, "Nothing")
    author.take("belt")
    author.click_at(300, 60)
    _in_hand(author, "Nothing")
    author.settled()
    assert _hands(author) == ["no mark", "Belt", "no mark"]


def test_marks_taken_in_turn_come_again_in_the_next_picture(author: Author) -> None:
    author.open_clip(CLIP)
    author.key("m")
    author.page.get_by_label("Name", exact=True).fill("belt, button")
    author.key("Enter")
    for mark in ("Belt", "Button"):
        _in_hand(author, mark)
        author.click_at(300, 200)
    _in_hand(author, "Nothing")
    author.key("d")
    _in_hand(author, "Belt")
