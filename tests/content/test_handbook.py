"""The author's handbook explains every kind there is, and what it says of the program is so."""

from __future__ import annotations

import ast
import re
from pathlib import Path

import pytest

import lessonpress
from lessonpress.drawing import FORMATS
from lessonpress.figures.plan.fields import FIGURES, FigureFields
from lessonpress.figures.plates import BoundSite
from lessonpress.manuscript.clip.card import Card
from lessonpress.manuscript.fields.written import keys_of
from lessonpress.manuscript.lesson.lesson import EXAMPLE
from lessonpress.manuscript.still.card import StillCard
from lessonpress.overlays import KINDS as OVERLAYS
from lessonpress.overlays.parts.fields import OverlayFields
from lessonpress.records.mark import PAIRED, SINGLE
from tests.content.used import KINDS, first_column, handbook, kinds_in, listed, section


@pytest.mark.parametrize("kind", KINDS)
def test_a_kind_has_a_page_with_a_live_example_of_it(kind: str, content: BoundSite) -> None:
    page = handbook(content.site).get(kind)
    assert page is not None, f"content/lessons/handbook-{kind}.md is missing"
    shown = tuple(block for block in page.blocks if block.example is not None)
    assert kind in kinds_in(shown, content.site)
    assert section(page.body, "When it is refused").strip()


@pytest.mark.parametrize("kind", KINDS)
def test_a_listed_lesson_uses_a_kind(kind: str, content: BoundSite) -> None:
    lessons = listed(content.site)
    assert kind in {one for lesson in lessons for one in kinds_in(lesson.blocks, content.site)}


@pytest.mark.parametrize("kind", OVERLAYS)
def test_a_page_of_an_overlay_tables_the_fields_it_has_of_its_own(kind: str, content: BoundSite) -> None:
    own = set(keys_of(OVERLAYS[kind].Fields)) - set(keys_of(OverlayFields))
    assert first_column(section(handbook(content.site)[kind].body, "Fields")) == own


@pytest.mark.parametrize("kind", FIGURES)
def test_a_page_of_a_figure_tables_the_fields_it_has_of_its_own(kind: str, content: BoundSite) -> None:
    shared = set() if kind == "frame" else set(keys_of(FigureFields))
    told = first_column(section(handbook(content.site)[kind].body, "Fields"))
    assert told == set(keys_of(FIGURES[kind])) - shared


def test_the_page_for_all_overlays_tables_what_they_share(content: BoundSite) -> None:
    page = handbook(content.site)["every-overlay"]
    assert first_column(section(page.body, "Fields")) == set(keys_of(OverlayFields))


def test_the_page_for_the_card_tables_every_key_it_takes(content: BoundSite) -> None:
    before_scale = handbook(content.site)["card"].body.partition("## Scale")[0]
    assert first_column(before_scale) == set(keys_of(Card))


def test_the_page_on_pictures_tables_every_key_of_their_cards(content: BoundSite) -> None:
    assert first_column(section(handbook(content.site)["pictures"].body, "Its card")) == set(
        keys_of(StillCard)
    )


def test_the_glossary_tables_every_known_mark(content: BoundSite) -> None:
    assert {*PAIRED, *SINGLE} <= first_column(handbook(content.site)["glossary"].body)


def test_the_contents_page_links_every_page_once_or_more(content: BoundSite) -> None:
    linked = {link.target for link in content.site.pages["handbook"].links}
    assert {page.path for page in handbook(content.site).values()} <= linked


def test_the_page_on_publishing_names_every_format_of_diagrams(content: BoundSite) -> None:
    page = handbook(content.site)["publishing"].body
    assert [one.NAME for one in FORMATS.values() if one.NAME not in page] == []


def test_no_page_of_the_handbook_is_listed(content: BoundSite) -> None:
    assert [page.name for page in handbook(content.site).values() if page.listed] == []


def test_every_figure_of_the_handbook_is_beside_its_source(content: BoundSite) -> None:
    assert any(block.is_figure for page in handbook(content.site).values() for block in page.blocks)
    for page in handbook(content.site).values():
        outside = [block.line for block in page.blocks if block.is_figure and block.example is None]
        assert outside == [], page.path


@pytest.mark.parametrize(
    "name",
    ["first-lesson", "filming", "writing", "plus-minus", "rights", "publishing", "refused", "glossary"],
)
def test_the_rest_of_what_an_author_needs_has_a_page(name: str, content: BoundSite) -> None:
    assert len(handbook(content.site)[name].body) > 1500


def test_refusals_are_quoted_as_the_program_says_them(content: BoundSite) -> None:
    page = handbook(content.site)["refused"]
    quoted = first_column(section(page.body, "Measures"))
    assert len(quoted) > 20
    said = _said()
    assert {words for words in quoted if words not in said} == set()


def _said() -> str:
    """Every text in the program's code, its places for values left out."""
    texts = []
    for path in sorted(Path(lessonpress.__file__).parent.rglob("*.py")):
        tree = ast.parse(path.read_text(encoding="utf-8"))
        texts += [node.value for node in ast.walk(tree) if isinstance(node, ast.Constant) and _text(node)]
    return "\n".join(texts)


def _text(node: ast.Constant) -> bool:
    return isinstance(node.value, str)


def test_examples_are_shown_in_the_words_that_were_written(content: BoundSite) -> None:
    """The block's text is the file's, line for line, so that what is shown is what is pressed."""
    examples = 0
    for page in handbook(content.site).values():
        rows = (content.site.root / page.path).read_text(encoding="utf-8").split("\n")
        for block in page.blocks:
            if block.kind == EXAMPLE:
                examples += 1
                lines = block.text.split("\n")
                assert rows[block.line : block.line + len(lines)] == lines
                assert re.fullmatch("`{4,}", rows[block.line + len(lines)])
    assert examples > 20
