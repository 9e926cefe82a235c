"""The words of the pages: a document for each language, all with the same keys, and no word anywhere else."""

from __future__ import annotations

import re
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
import yaml

from lessonpress.pages import Theme
from lessonpress.pages.words import counted, phrase
from tests.pages import factory
from tests.pages.sites import pages_of, parse, words_of

FOLDER = Theme.named().folder
ENGLISH = Theme.named().words("en")
OTHERS = [file.stem for file in sorted((FOLDER / "words").glob("*.yaml")) if file.stem != "en"]
TEMPLATES = sorted((FOLDER / "templates").rglob("*.html"))
OWN_NAMES = ("terms",)  # what a language explains, and by which words it is found, is its own
LISTS_OF_THEIR_OWN = ("caution.about", "search.passed_over")


def said(words: Any, at: str = "") -> Iterator[tuple[str, list[str]]]:
    """Each text by its path of keys, with the names that it fills in."""
    if at in LISTS_OF_THEIR_OWN or at in OWN_NAMES:
        yield at, []
    elif isinstance(words, dict):
        for key, value in words.items():
            yield from said(value, f"{at}.{key}" if at else key)
    elif isinstance(words, list):
        for position, value in enumerate(words):
            yield from said(value, f"{at}.{position}")
    else:
        yield at, sorted(set(re.findall(r"\{\w+\}", words)))


@pytest.mark.parametrize("language", OTHERS)
def test_every_language_says_all_that_english_says_and_fills_in_the_same(language: str) -> None:
    words = yaml.safe_load((FOLDER / "words" / f"{language}.yaml").read_text(encoding="utf-8"))
    assert dict(said(words)) == dict(said(ENGLISH))


@pytest.mark.parametrize("language", OTHERS)
def test_no_text_of_another_language_was_left_in_english(language: str) -> None:
    """Those that are alike hold no word of three small letters, such as "±" and "{first}: {second}"."""
    words = dict(texts(Theme.named().words(language)))
    alike = [at for at, text in texts(ENGLISH) if words.get(at) == text and at not in SAME_IN_BOTH]
    assert not [at for at in alike if re.search(r"[a-z]{3}", re.sub(r"\{\w+\}", "", words[at]))]


SAME_IN_BOTH = ("foot.feed", "date.months.3", "date.months.7", "date.months.8", "date.months.10")


def texts(words: Any, at: str = "") -> Iterator[tuple[str, str]]:
    items = words.items() if isinstance(words, dict) else enumerate(words) if isinstance(words, list) else ()
    if isinstance(words, str):
        yield at, words
    for key, value in items:
        yield from texts(value, f"{at}.{key}" if at else str(key))


@pytest.mark.parametrize(
    "template", TEMPLATES, ids=lambda file: file.relative_to(FOLDER / "templates").as_posix()
)
def test_no_template_holds_a_word_of_its_own(template: Path) -> None:
    """Neither as text nor in an attribute that is read out."""
    html = re.sub(r"\{#.*?#\}|\{%.*?%\}|\{\{.*?\}\}", "", template.read_text(encoding="utf-8"), flags=re.S)
    spoken = re.findall(r'\b(?:alt|title|placeholder|aria-label|content)="([^"]*)"', html)
    kept = [words for words in spoken if not re.search(r"#|[=;]|^(?:noindex|no-referrer|light dark)$", words)]
    marked = r'<style>.*?</style>|<[^>]*>|&\w+;|\bclass="[^"]*"'  # a block may hold an attribute alone
    between = re.sub(marked, " ", html, flags=re.DOTALL)
    assert not re.findall(r"[^\W\d_]{2,}", " ".join([between, *kept]))


def test_a_phrase_of_the_program_is_found_with_what_it_fills_in() -> None:
    german = Theme.named().words("de")
    assert phrase("away from the target", german) == "vom Ziel weg"
    assert phrase("inside 25° to 35°", german) == "innerhalb von 25° bis 35°"
    assert phrase("Frame 96", german) == "Bild 96"
    assert phrase("Late release", german) == "Late release", "a name that an author gave stays"


def test_one_is_said_as_the_noun_wants_it() -> None:
    german = Theme.named().words("de")
    assert [counted(number, "measure", german) for number in (1, 3, 40)] == [
        "eine Messung",
        "drei Messungen",
        "40 Messungen",
    ]


def test_a_site_in_german_says_its_own_words_in_german_and_marks_what_is_english() -> None:
    pages = pages_of(factory.bound(factory.whole_lesson(), language="de-CH"))
    page = parse(pages["lessons/pelvis/index.html"])
    words = words_of(page)
    assert "Tafel I" in words and "4.0 in ± 0.6 vom Ziel weg" in words
    assert "innerhalb von 25° bis 35°" in words
    assert page.get("lang") == "de-CH"
    assert not [one for one in page.iter() if one.get("lang") == "en" and "Tafel" in "".join(one.itertext())]
    assert (
        'lang="en"'
        not in pages_of(factory.bound(factory.whole_lesson(), language="en-GB"))[
            "lessons/pelvis/index.html"
        ].split("<body>")[1]
    )
