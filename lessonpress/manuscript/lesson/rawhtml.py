"""Warnings of raw HTML, which the press prints as text."""

from __future__ import annotations

import re

from markdown_it.token import Token

from lessonpress.manuscript.lesson.prose import inline_pieces, without_code
from lessonpress.manuscript.text.passage import Passage
from lessonpress.records import Problems

# elements of HTML (WHATWG, section 4) that authors write by hand; `<name>` may be meant as it is
_ELEMENTS = (
    "a|abbr|article|aside|audio|b|big|blockquote|br|button|center|cite|code|details|div|dl|dt|dd|em|embed|"
    "figcaption|figure|font|footer|form|h[1-6]|header|hr|i|iframe|img|input|ins|kbd|li|link|main|mark|nav|"
    "object|ol|p|picture|pre|q|s|script|section|small|source|span|strike|strong|style|sub|summary|sup|svg|"
    "table|tbody|td|th|thead|time|tr|u|ul|video|wbr"
)
_TAG = re.compile(rf"<(?:/?(?:{_ELEMENTS})(?=[\s/>])[^<>]*>|!--)", re.IGNORECASE)


def html_in(passage: Passage, tokens: list[Token], problems: Problems) -> None:
    """Warn of the first tag or comment of each paragraph that holds any."""
    for piece, token in inline_pieces(passage, tokens):
        tag = _TAG.search(without_code(piece.text, token))
        if tag is not None:
            wrong = f"`{tag[0].split()[0].rstrip('>')}{'' if tag[0] == '<!--' else '>'}` is printed as text"
            problems.warn(
                piece.at(tag.start()),
                wrong,
                "raw HTML is not read: use Markdown, or put it in backquotes where it is meant as it is",
            )
