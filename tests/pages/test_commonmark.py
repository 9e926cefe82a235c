"""The CommonMark Spec's own examples through the pages' renderer.

Source: CommonMark Spec 0.31.2 by John MacFarlane, CC BY-SA 4.0; see commonmark/NOTICE.md.
"""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest
from markdown_it import MarkdownIt

from lessonpress.pages.markdown import Writing, render
from lessonpress.pages.prose import ProseContext

EXAMPLES: list[dict[str, Any]] = json.loads(
    (Path(__file__).parent / "commonmark" / "examples.json").read_text(encoding="utf-8")
)
WRITING = Writing(ProseContext({}, {}, "in"))


def holds_html(markdown: str) -> bool:
    """Whether the example uses raw HTML: whether a parser that lets it through finds any."""
    tokens = MarkdownIt("commonmark").parse(markdown)
    children = [child for token in tokens for child in token.children or []]
    nested = [inner for child in children for inner in child.children or []]
    return any(token.type.startswith("html") for token in [*tokens, *children, *nested])


PLAIN = [example for example in EXAMPLES if not holds_html(example["markdown"])]
WITH_HTML = [example for example in EXAMPLES if holds_html(example["markdown"])]


def test_the_spec_has_652_examples_of_which_580_use_no_html() -> None:
    assert (len(EXAMPLES), len(PLAIN)) == (652, 580)


@pytest.mark.parametrize("example", PLAIN, ids=lambda example: f"{example['example']}")
def test_an_example_without_html_renders_exactly(example: dict[str, Any]) -> None:
    assert str(render(example["markdown"], WRITING)) == example["html"]


@pytest.mark.parametrize("example", WITH_HTML, ids=lambda example: f"{example['example']}")
def test_html_in_an_example_appears_as_text(example: dict[str, Any]) -> None:
    """Every opening angle bracket of the source comes out escaped: as many go in as come out."""
    source = example["markdown"]
    assert str(render(source, WRITING)).count("&lt;") == source.count("<")
