"""Lessons are CommonMark with tables, footnotes and measures in braces; raw HTML is shown as text."""

from __future__ import annotations

from markdown_it import MarkdownIt
from markdown_it.token import Token

from lessonpress.manuscript.lesson.markdown import markdown_parser


def measures(text: str) -> list[tuple[str, str | None]]:
    tokens = markdown_parser().parse(text)
    children = [child for token in tokens for child in token.children or []]
    return [(child.meta["id"], child.meta["form"]) for child in children if child.type == "measure"]


def test_a_measure_is_a_token_with_its_id_and_form() -> None:
    text = "{navel-back} {navel-back:size} {knee.top} {lean.first:value} {top.shift.1} {figure:top} {tempo}"
    assert measures(text) == [
        ("navel-back", None),
        ("navel-back", "size"),
        ("knee.top", None),
        ("lean.first", "value"),
        ("top.shift.1", None),
        ("figure", "top"),
        ("tempo", None),
    ]


def test_a_measure_can_be_in_emphasis_links_headings_and_tables() -> None:
    assert measures("# A {a}\n\n**{b}** [to {c}](x)\n\n| d |\n|---|\n| {d} |\n") == [
        ("a", None),
        ("b", None),
        ("c", None),
        ("d", None),
    ]


def test_an_escaped_brace_and_code_are_left_alone() -> None:
    assert measures("\\{a} `{b}`\n\n    {c}\n\n```\n{d}\n```\n") == []
    assert markdown_parser().render("\\{a}") == "<p>{a}</p>\n"


def test_a_brace_that_opens_no_measure_is_text() -> None:
    assert markdown_parser().render("{Not This} {x") == "<p>{Not This} {x</p>\n"


def test_raw_html_is_shown_as_text() -> None:
    assert markdown_parser().render("a <b>c</b>\n\n<script>x</script>\n") == (
        "<p>a &lt;b&gt;c&lt;/b&gt;</p>\n<p>&lt;script&gt;x&lt;/script&gt;</p>\n"
    )


def test_a_measure_can_be_in_a_footnote() -> None:
    assert measures("Far[^1]\n\n[^1]: by {navel-back}\n") == [("navel-back", None)]


def _types(tokens: list[Token]) -> list[str]:
    return [token.type for token in tokens]


def test_text_without_braces_is_parsed_as_the_commonmark_reference_parser_does() -> None:
    text = '# Hips\n\n- one\n- *two* `three`\n\n> [four](five "six")\n\n1. a\n\n   ```c\n   d\n   ```\n'
    reference = MarkdownIt("commonmark", {"html": False})
    assert markdown_parser().render(text) == reference.render(text)
    assert _types(markdown_parser().parse(text)) == _types(reference.parse(text))
