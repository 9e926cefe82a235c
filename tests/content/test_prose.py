"""No number that could be measured is typed into a lesson: it would go stale the day a mark is moved."""

from __future__ import annotations

import re

from markdown_it import MarkdownIt
from markdown_it.token import Token

from lessonpress.figures.plates import BoundSite
from lessonpress.manuscript.lesson.lesson import Lesson
from lessonpress.manuscript.lesson.markdown import markdown_parser
from tests.content.used import listed

UNITS = (
    r"in|inch|inches|ft|foot|feet|yards?|cm|mm|m|metres?|centimetres?|millimetres?|°|deg|degrees?|mph|m/s|"
    r"miles an hour|%|per cent|percent|ms|milliseconds?"
)
NUMBER = (
    r"(?:\d+(?:[.,:]\d+)?|two|three|four|five|six|seven|eight|nine|ten|eleven|twelve|fifteen|twenty|thirty)"
)
TYPED = re.compile(rf"(?<![\w.]){NUMBER}(?:\s|-|\u2009)?(?:{UNITS})(?![\w])", re.IGNORECASE)
MARKDOWN: MarkdownIt = markdown_parser()


def typed(text: str) -> list[str]:
    """Numbers with a unit in the prose of a Markdown text; code and fences are none of it."""
    return [found[0] for line in _prose(MARKDOWN.parse(text)) for found in TYPED.finditer(line)]


def _prose(tokens: list[Token]) -> list[str]:
    return [_words(token.children or []) for token in tokens if token.type == "inline"]


def _words(children: list[Token]) -> str:
    words = (" " if child.type.endswith("break") else child.content for child in children if _is_text(child))
    return "".join(words)


def _is_text(token: Token) -> bool:
    return token.type in ("text", "softbreak", "hardbreak")


def _captions(lesson: Lesson) -> list[str]:
    nodes = [block.node.get("caption") for block in lesson.blocks if block.node is not None]
    return [str(node.plain) for node in nodes if node is not None]


def test_no_lesson_types_a_number_that_should_be_measured(content: BoundSite) -> None:
    """Drills and cautions give orders ("a foot apart"), and the handbook names what the program uses."""
    found = {
        lesson.path: said
        for lesson in listed(content.site)
        if (
            said := [one for text in (lesson.body, lesson.summary, *_captions(lesson)) for one in typed(text)]
        )
    }
    assert found == {}


def test_typed_numbers_are_found_in_prose_and_not_in_code_or_measures() -> None:
    text = """\
The navel went 4.0 in back, leant 30° and swung at 98 mph; the head kept to
two inches. Not {back}, not `12 in`, not three lines, nor the 2nd of 20 swings in May.

```frame
ring: head
size: 12 in
```
"""
    assert typed(text) == ["4.0 in", "30°", "98 mph", "two inches"]
