"""The texts of a lesson or a page as readers read them: runs of words that know where they are written."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Literal

from markdown_it.token import Token

from lessonpress.manuscript.lesson.lesson import Block, Lesson, printed_texts
from lessonpress.manuscript.lesson.markdown import MEASURE
from lessonpress.manuscript.lesson.page import Page
from lessonpress.manuscript.lesson.prose import (
    Reference,
    ScalarText,
    Where,
    inline_pieces,
    parse,
    without_code,
)
from lessonpress.manuscript.text.passage import Passage, Row
from lessonpress.records import Location

RunKind = Literal[
    "title", "summary", "prose", "heading", "quote", "caption", "alt", "label", "caution", "drill"
]


@dataclass(frozen=True)
class Run:
    """A paragraph, a heading, a caption, or another text that is read as one.

    text: as written, with blanks in the place of what is no word of it (code, addresses, signs of emphasis),
    so that offsets in it are those of `written`. sourced: where links and footnotes are in it. line: of the
    block that holds it, None in running text.
    """

    kind: RunKind
    written: Passage
    text: str
    line: int | None = None
    scalar: ScalarText | None = None
    sourced: tuple[tuple[int, int], ...] = ()

    def at(self, offset: int) -> Location:
        """Where the character at `offset` of the text is written."""
        location = self.written.at(offset)
        return self.scalar.real(location) if self.scalar else location

    def references(self) -> Iterator[tuple[int, int, Reference]]:
        """The measures that it prints and the figures that it leads to: start, end, reference."""
        where: Where = "caption" if self.kind == "caption" else "prose"
        for brace in MEASURE.finditer(self.text):
            if not self.text[: brace.start()].endswith("\\"):
                at = self.at(brace.start())
                yield brace.start(), brace.end(), Reference(brace["id"], brace["form"], at, where, self.line)


def runs_of(text: Lesson | Page) -> Iterator[Run]:
    """Every run of a lesson or a page: its head, its prose, then what its blocks say."""
    yield from _head(text)
    rows = tuple(Row(number, 0, line) for number, line in enumerate(text.body.split("\n"), text.body_line))
    yield from _markdown(Passage(text.path, text.body, rows), "prose")
    for block in text.blocks if isinstance(text, Lesson) else ():
        yield from _of_block(block)


def pictures_in(text: Lesson | Page) -> Iterator[tuple[str, Location]]:
    """The alt text of every picture in the prose, and where the picture is written."""
    rows = tuple(Row(number, 0, line) for number, line in enumerate(text.body.split("\n"), text.body_line))
    passages = [Passage(text.path, text.body, rows)]
    passages += [
        block.passage for block in (text.blocks if isinstance(text, Lesson) else ()) if not block.is_figure
    ]
    for passage in passages:
        for piece, token in inline_pieces(passage, parse(passage)):
            after = 0
            for child in token.children or []:
                if child.type == "image":
                    after = max(piece.text.find("![", after), 0)
                    yield child.content, piece.at(after)
                    after += 1


def _head(text: Lesson | Page) -> Iterator[Run]:
    heads: tuple[tuple[RunKind, str], ...] = (("title", text.title), ("summary", text.summary))
    for kind, words in heads:
        if words:
            found = text.location_of(kind)
            start = max(found.source.find(words[:20]), 0)
            yield _run(kind, Passage(text.path, words, (Row(found.line, start, found.source),)), words)


def _of_block(block: Block) -> Iterator[Run]:
    if block.kind in ("caution", "drill"):
        yield from _markdown(block.passage, "caution" if block.kind == "caution" else "drill", block.line)
    elif block.kind == "example":
        yield from _markdown(block.passage, "prose", block.line)
    for where, scalar in printed_texts(block):
        written = ScalarText(scalar, block.passage)
        kind: RunKind = where if where in ("caption", "alt") else "label"
        if kind == "caption":
            yield from _markdown(written.passage, kind, block.line, written)
        else:
            yield _run(kind, written.passage, written.passage.text, block.line, written)


def _markdown(
    passage: Passage, kind: RunKind, line: int | None = None, scalar: ScalarText | None = None
) -> Iterator[Run]:
    tokens = parse(passage)
    kinds = _kinds(tokens) if kind == "prose" else {}
    for piece, token in inline_pieces(passage, tokens):
        text = without_code(piece.text, token)
        yield _run(kinds.get(id(token), kind), piece, text, line, scalar)


def _kinds(tokens: list[Token]) -> dict[int, RunKind]:
    """What kind of run an inline token is, by its id, where it is no paragraph of the author's own."""
    kinds: dict[int, RunKind] = {}
    quotes = 0
    for before, token in zip([None, *tokens], tokens, strict=False):
        quotes += {"blockquote_open": 1, "blockquote_close": -1}.get(token.type, 0)
        if token.type == "inline" and quotes:
            kinds[id(token)] = "quote"
        elif token.type == "inline" and before is not None and before.type == "heading_open":
            kinds[id(token)] = "heading"
    return kinds


_LINK = re.compile(r"!?\[[^\[\]]*\](?:\([^()]*\)|\[[^\[\]]*\])|\[\^[^\[\]]*\]")
_SIGNS = re.compile(r"\*+|(?<!\w)_+|(?<=[^\W_])_+(?!\w)")


def _run(
    kind: RunKind, written: Passage, text: str, line: int | None = None, scalar: ScalarText | None = None
) -> Run:
    sourced = tuple(link.span() for link in _LINK.finditer(written.text))
    letters = list(_SIGNS.sub(lambda signs: " " * len(signs[0]), text))
    for start, end in sourced:
        said = range(written.text.find("[", start) + 1, written.text.find("]", start))
        for at in (*range(start, said.start), *range(said.stop, end)):
            letters[at] = " "
    return Run(kind, written, "".join(letters), line, scalar, sourced)
