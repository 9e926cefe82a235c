"""The Markdown of lessons and pages: CommonMark, tables, footnotes, and measures in braces.

Raw HTML appears as text. A measure is an inline token of type `measure` whose meta holds its id and form,
and `at`, the offset in the inline text; its content is what was written, which is also what a renderer
without measures shows.
"""

from __future__ import annotations

import re
from functools import lru_cache

from markdown_it import MarkdownIt
from markdown_it.rules_inline import StateInline
from mdit_py_plugins.footnote import footnote_plugin

FORMS = ("size", "value", "bare", "way", "cm", "in", "answer", "clock")

_ID = r"[a-z][a-z0-9-]*(?:\.[a-z0-9][a-z0-9-]*)*"
MEASURE = re.compile(rf"\{{(?P<id>{_ID})(?::(?P<form>[a-z][a-z0-9-]*))?\}}")


def markdown_parser() -> MarkdownIt:
    """A parser for scanning and for rendering; the caller may add rules of its own."""
    markdown = MarkdownIt("commonmark", {"html": False}).enable("table")
    footnote_plugin(markdown, inline=False)
    markdown.inline.ruler.before("link", "measure", _measure)
    return markdown


@lru_cache(maxsize=1)
def scanner() -> MarkdownIt:
    """The one parser that reading shares: braces that open no measure are tokens of type `loose_brace`."""
    markdown = markdown_parser()
    markdown.inline.ruler.after("measure", "loose_brace", _loose_brace)
    return markdown


def _measure(state: StateInline, silent: bool) -> bool:
    """`{id}`, `{id:form}`, `{id.sub}`, `{figure:id}`. A brace that opens none of these is text."""
    brace = MEASURE.match(state.src, state.pos, state.posMax) if state.src[state.pos] == "{" else None
    if brace is None:
        return False
    if not silent:
        token = state.push("measure", "", 0)
        token.content = brace[0]
        token.meta = {"id": brace["id"], "form": brace["form"], "at": state.pos}
    state.pos = brace.end()
    return True


_LOOSE = re.compile(r"\{[^{}\n]*\}|[{}]")


def _loose_brace(state: StateInline, silent: bool) -> bool:
    brace = _LOOSE.match(state.src, state.pos, state.posMax)
    if brace is None:
        return False
    if not silent:
        token = state.push("loose_brace", "", 0)
        token.content = brace[0]
        token.meta = {"at": state.pos}
    state.pos = brace.end()
    return True
