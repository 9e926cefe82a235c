"""Markdown → HTML, with measures lettered and figures in their places.

The manuscript's parser reads (CommonMark, tables, footnotes, measures; HTML in the source shows as text);
only the rules named here print other than markdown-it does by itself.
"""

from __future__ import annotations

import re
from collections.abc import Callable, MutableMapping, Sequence
from dataclasses import dataclass, field
from functools import lru_cache
from textwrap import shorten
from typing import Any

from markdown_it import MarkdownIt
from markdown_it.renderer import RendererHTML
from markdown_it.token import Token
from markdown_it.utils import OptionsDict
from markupsafe import Markup

from lessonpress.manuscript import markdown_parser
from lessonpress.pages import prose
from lessonpress.pages.prose import ProseContext
from lessonpress.pages.stills import PrintedPicture, Printing

Env = MutableMapping[str, Any]
LONGEST_HEADING = 60  # characters of words in place of one
WRITING = "writing"  # the key of an env that holds the text's Writing


def _no_block(line: int) -> Markup | None:
    return None


def _no_picture(written: str) -> PrintedPicture | None:
    return None


def _as_it_is(href: str) -> str | None:
    return href


@dataclass(frozen=True)
class Writing:
    """What one text is rendered with.

    printing: what its measures and figures print. block: file line of a fence → the HTML that replaces it, or
    None for code. href: a link or picture's address as written → as printed, None for one that leads nowhere.
    picture: how one of the author's own is printed; any other's address goes through href. first_line: file
    line of the first line. notes: what sets this text's footnotes apart from those of others on the page.
    outline: the level of the page's own heading; headings of the text start one below it, 0 leaves them as
    written.
    """

    printing: ProseContext
    block: Callable[[int], Markup | None] = field(default=_no_block)
    href: Callable[[str], str | None] = field(default=_as_it_is)
    picture: Printing = field(default=_no_picture)
    first_line: int = 1
    notes: str = ""
    outline: int = 0


def render(text: str, writing: Writing) -> Markup:
    """The text as block-level HTML."""
    env = _env(writing)
    return rendered(parsed(text, env), env)


def render_inline(text: str, writing: Writing) -> Markup:
    """One line of text as inline HTML, without a paragraph round it."""
    env = _env(writing)
    return rendered(_markdown().parseInline(text, env), env)


def plain(text: str, printing: ProseContext) -> str:
    """The words of a text without its markup: for alt texts, feeds and descriptions."""
    tokens = _markdown().parse(text, _env(Writing(printing)))
    parts = [_plain_inline(token.children or [], printing) for token in tokens if token.type == "inline"]
    return "\n".join(part for part in parts if part)


def heading_of(text: str, printing: ProseContext) -> str:
    """What a text is headed by: its first heading, else its first sentence; "" for a text without words."""
    tokens = _markdown().parse(text, _env(Writing(printing)))
    headed = [tokens[position + 1] for position, token in enumerate(tokens) if token.type == "heading_open"]
    lines = headed or [token for token in tokens if token.type == "inline"]
    if not lines:
        return ""
    words = _plain_inline(lines[0].children or [], printing)
    return words if headed else _first_words(words)


def _first_words(text: str) -> str:
    """The first sentence or line of a text, no longer than a heading."""
    sentence = re.split(r"(?<=[.!?:;])\s", text, maxsplit=1)[0].rstrip(".:;")
    return shorten(sentence, LONGEST_HEADING, placeholder=" …")


def level_before(line: int, text: str, writing: Writing) -> int:
    """The level of the last heading above a file line of the text, the page's own where there is none."""
    levels = [
        int(token.tag[1])
        for token in parsed(text, _env(writing))
        if token.type == "heading_open" and token.map and token.map[0] + writing.first_line < line
    ]
    return levels[-1] if levels else writing.outline


def opened(writing: Writing) -> Env:
    """A fresh state for `parsed` and `rendered`, which share one where a text is printed in parts."""
    return _env(writing)


def parsed(text: str, env: Env) -> list[Token]:
    """The tokens of a text, its headings set below the page's own."""
    tokens = _markdown().parse(text, env)
    _set_outline(tokens, env[WRITING].outline)
    return tokens


def rendered(tokens: Sequence[Token], env: Env) -> Markup:
    markdown = _markdown()
    return Markup(markdown.renderer.render(list(tokens), markdown.options, env))


def _env(writing: Writing) -> Env:
    return {WRITING: writing, "docId": writing.notes} if writing.notes else {WRITING: writing}


def _set_outline(tokens: Sequence[Token], outline: int) -> None:
    """Shift the headings so that the highest one of the text is one level below `outline`."""
    headings = [token for token in tokens if token.type in ("heading_open", "heading_close")]
    if not headings or not outline:
        return
    shift = outline + 1 - min(int(token.tag[1]) for token in headings)
    for token in headings:
        token.tag = f"h{min(6, int(token.tag[1]) + shift)}"


def _plain_inline(tokens: Sequence[Token], printing: ProseContext) -> str:
    words = []
    for token in tokens:
        if token.type == "measure":
            words.append(prose.text(token.meta["id"], token.meta["form"] or "", printing))
        elif token.type in ("softbreak", "hardbreak"):
            words.append(" ")
        elif token.type == "image":
            words.append(_plain_inline(token.children or [], printing))
        else:
            words.append(token.content)
    return "".join(words)


@lru_cache(maxsize=1)
def _markdown() -> MarkdownIt:
    markdown = markdown_parser()
    for name, rule in _RULES.items():
        markdown.add_render_rule(name, rule)
    return markdown


def _measure(
    renderer: RendererHTML, tokens: Sequence[Token], index: int, options: OptionsDict, env: Env
) -> str:
    meta = tokens[index].meta
    return str(prose.html(meta["id"], meta["form"] or "", env[WRITING].printing))


def _fence(
    renderer: RendererHTML, tokens: Sequence[Token], index: int, options: OptionsDict, env: Env
) -> str:
    block = block_of(tokens[index], env)
    return renderer.fence(tokens, index, options, env) if block is None else str(block)


def block_of(token: Token, env: Env) -> Markup | None:
    """What replaces a fence in this writing; None for code and for what is no fence."""
    if token.type != "fence" or token.map is None:
        return None
    writing: Writing = env[WRITING]
    return writing.block(writing.first_line + token.map[0])


def _link_open(
    renderer: RendererHTML, tokens: Sequence[Token], index: int, options: OptionsDict, env: Env
) -> str:
    token = tokens[index]
    writing: Writing = env[WRITING]
    href = writing.href(str(token.attrGet("href") or ""))
    if href is None:
        token.attrs.pop("href", None)
    else:
        token.attrSet("href", href)
    return renderer.renderToken(tokens, index, options, env)


def _image(
    renderer: RendererHTML, tokens: Sequence[Token], index: int, options: OptionsDict, env: Env
) -> str:
    token = tokens[index]
    writing: Writing = env[WRITING]
    written = str(token.attrGet("src") or "")
    printed = writing.picture(written)
    if printed is None:
        token.attrSet("src", writing.href(written) or "")
        return renderer.image(tokens, index, options, env)
    for name, value in printed.attributes.items():
        token.attrSet(name, value)
    return renderer.image(tokens, index, options, env) + str(printed.credit)


def _blockquote_open(
    renderer: RendererHTML, tokens: Sequence[Token], index: int, options: OptionsDict, env: Env
) -> str:
    """An empty quotation keeps its line, as the CommonMark Spec prints it."""
    opened = renderer.renderToken(tokens, index, options, env)
    empty = tokens[index + 1].type == "blockquote_close"
    return f"{opened.rstrip()}\n" if empty else opened


def _cell_open(
    renderer: RendererHTML, tokens: Sequence[Token], index: int, options: OptionsDict, env: Env
) -> str:
    """A cell of a column set to one side has a class for it: pages allow no styles within."""
    style = tokens[index].attrs.pop("style", "")
    if style:
        tokens[index].attrSet("class", f"to-{str(style).removeprefix('text-align:')}")
    return renderer.renderToken(tokens, index, options, env)


_RULES = {
    "th_open": _cell_open,
    "td_open": _cell_open,
    "measure": _measure,
    "fence": _fence,
    "link_open": _link_open,
    "image": _image,
    "blockquote_open": _blockquote_open,
}
