"""A letter in plain text, made of its HTML, so that the two cannot differ.

Tables that lay out are passed over, those of numbers are set in columns; a picture is its words; a link has
its address after it. Lines are broken at 72 characters, as RFC 5322 (2.1.1) would have them under 78.
"""

from __future__ import annotations

import textwrap
from dataclasses import dataclass, field
from html.parser import HTMLParser

WIDTH = 72
UNSEEN = "unseen"  # the class of what a mail program shows elsewhere, such as the first words in a list
_SKIPPED = ("head", "style", "script", "title")
_VOID = ("img", "br", "hr", "meta", "link", "col")
_BLOCKS = ("p", "div", "li", "dt", "dd", "caption", "pre", "section", "blockquote", "td", "th", "tr", "table")
_UNDERLINES = {"h1": "=", "h2": "-"}


def plain_text(html: str) -> str:
    """The words of a letter, in paragraphs parted by empty lines."""
    reader = _Reader()
    reader.feed(html)
    reader.close()
    reader.end_block()
    return "".join(reader.blocks).lstrip("\n") + "\n"


@dataclass
class _Table:
    """A table of numbers as it is read."""

    rows: list[list[str]] = field(default_factory=list)
    caption: str = ""

    @property
    def text(self) -> str:
        columns = max((len(row) for row in self.rows), default=0)
        rows = [row + [""] * (columns - len(row)) for row in self.rows]
        widths = [max(len(row[at]) for row in rows) for at in range(columns)]
        lines = [
            "  ".join(cell.ljust(width) for cell, width in zip(row, widths, strict=True)) for row in rows
        ]
        if max((len(line.rstrip()) for line in lines), default=0) > WIDTH:
            lines = [_listed(row) for row in self.rows]  # too wide for columns: a line a row
        return "\n".join([*([self.caption] if self.caption else []), *(line.rstrip() for line in lines)])


def _listed(row: list[str]) -> str:
    return textwrap.fill("; ".join(cell for cell in row if cell), WIDTH, subsequent_indent="  ")


class _Reader(HTMLParser):
    """blocks: the text so far, each with what parts it from the one before. _words: of one not whole yet."""

    def __init__(self) -> None:
        super().__init__(convert_charrefs=True)
        self.blocks: list[str] = []
        self._words = ""
        self._open: list[str] = []  # tags; those whose content is skipped have a leading "-"
        self._lists: list[int | None] = []  # the next number of each open list, None where it has none
        self._quoted = 0
        self._bullet = ""
        self._among_items = False  # whether the last block was an item of a list that is still open
        self._href: list[str] = []
        self._tables: list[_Table | None] = []  # None for one that lays out

    # what is read

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        given = {name: value or "" for name, value in attrs}
        skipped = tag in _SKIPPED or UNSEEN in given.get("class", "").split()
        if tag not in _VOID:
            self._open.append(f"-{tag}" if skipped else tag)
        if self._skipping:
            return
        if tag in _BLOCKS or tag in _UNDERLINES or tag in ("h3", "h4", "h5", "h6", "ul", "ol", "dl"):
            self._start_block(tag)
        if tag == "table":
            self._tables.append(None if given.get("role") == "presentation" else _Table())
        elif tag == "tr" and self._table is not None:
            self._table.rows.append([])
        elif tag in ("ul", "ol"):
            self._lists.append(int(given.get("start", "1")) if tag == "ol" else None)
        elif tag == "li":
            self._bullet = self._next_bullet()
        elif tag == "blockquote":
            self._quoted += 1
        elif tag == "a":
            self._href.append(given.get("href", ""))
        elif tag == "img":
            self._words += f"[{given['alt']}]" if given.get("alt") else ""
        elif tag == "br":
            self._words += "\n"
        elif tag == "hr":
            self.end_block()
            self._add("* * *")

    def handle_endtag(self, tag: str) -> None:
        skipping = self._skipping
        while self._open and self._open.pop().removeprefix("-") != tag:
            pass
        if skipping:
            return
        if tag in _UNDERLINES:
            self._end_heading(_UNDERLINES[tag])
        elif tag in ("td", "th") and self._table is not None:
            self._end_cell()
        elif tag == "caption" and self._table is not None:
            self._table.caption, self._words = _spaced(self._words), ""
        elif tag == "table" and self._tables:
            table = self._tables.pop()
            if table is not None:
                self._add(table.text)
        elif tag == "a" and self._href:
            self._end_link(self._href.pop())
        elif tag == "pre":
            self._add(textwrap.indent(self._words.rstrip("\n"), "    "))
            self._words = ""
        elif tag in _BLOCKS or tag in ("h3", "h4", "h5", "h6", "ul", "ol", "dl"):
            self.end_block()
        if tag in ("ul", "ol") and self._lists:
            self._lists.pop()
        if tag == "blockquote":
            self._quoted -= 1

    def handle_data(self, data: str) -> None:
        if not self._skipping:
            self._words += data if "pre" in self._open else data.replace("\n", " ")

    # what is made of it

    @property
    def _skipping(self) -> bool:
        return any(tag.startswith("-") for tag in self._open)

    @property
    def _table(self) -> _Table | None:
        return self._tables[-1] if self._tables else None

    def _start_block(self, tag: str) -> None:
        if self._table is None or tag == "table":
            self.end_block()

    def end_block(self) -> None:
        """Makes a paragraph of the words so far."""
        if self._table is not None:
            self._words += " "  # a paragraph within a cell
            return
        lines = [_spaced(line) for line in self._words.split("\n")]
        self._words = ""
        if not any(lines):
            return
        indent = "> " * self._quoted + "  " * max(len(self._lists) - 1, 0)
        first = indent + self._bullet
        later = indent + " " * len(self._bullet)
        if not self._bullet and self._lists:
            first = later = indent + "  "
        filled = [
            textwrap.fill(
                line,
                WIDTH,
                initial_indent=first if position == 0 else later,
                subsequent_indent=later,
                break_long_words=False,
                break_on_hyphens=False,
            )
            for position, line in enumerate(lines)
            if line
        ]
        self._add("\n".join(filled), close=bool(self._bullet) and self._among_items)
        self._among_items, self._bullet = bool(self._lists), ""

    def _add(self, block: str, *, close: bool = False) -> None:
        """Adds a block. close: whether no empty line comes before it, as between the items of a list."""
        if block.strip():
            self.blocks.append(("\n" if close else "\n\n") + block)
            self._among_items = False

    def _next_bullet(self) -> str:
        if not self._lists or self._lists[-1] is None:
            return "- "
        number = self._lists[-1]
        self._lists[-1] = number + 1
        return f"{number}. "

    def _end_heading(self, line: str) -> None:
        words = _spaced(self._words)
        self._words = ""
        if words:
            lines = textwrap.wrap(words, WIDTH)
            self._add("\n".join([*lines, line * max(len(one) for one in lines)]))

    def _end_cell(self) -> None:
        assert self._table is not None
        if self._table.rows:
            self._table.rows[-1].append(_spaced(self._words))
        self._words = ""

    def _end_link(self, href: str) -> None:
        if href and not href.startswith("#") and not self._words.rstrip().endswith(href):
            self._words = f"{self._words.rstrip()} <{href}>"


def _spaced(words: str) -> str:
    return " ".join(words.split())
