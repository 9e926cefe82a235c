"""A text with locations: a whole file, or a part of one that is read by itself (a block, a caption)."""

from __future__ import annotations

from bisect import bisect_right
from dataclasses import dataclass, field

from lessonpress.records import Location


@dataclass(frozen=True, slots=True)
class Row:
    """Where one line of a passage is in its file.

    number: the file's line, from 1. shift: how many characters are there before the passage's own text.
    line: the whole line as written.
    """

    number: int
    shift: int
    line: str


@dataclass(frozen=True)
class Passage:
    """Text, lines parted by a newline, that knows for each character its location in the file."""

    path: str
    text: str
    rows: tuple[Row, ...]
    starts: tuple[int, ...] = field(init=False, compare=False, repr=False)

    def __post_init__(self) -> None:
        starts, at = [0], self.text.find("\n")
        while at >= 0:
            starts.append(at + 1)
            at = self.text.find("\n", at + 1)
        object.__setattr__(self, "starts", tuple(starts))

    def at(self, offset: int) -> Location:
        """Where the character at `offset`, counted from 0, is; past the end, the end of the last row."""
        line = bisect_right(self.starts, max(0, offset)) - 1
        return self.spot(line, offset - self.starts[line])

    def spot(self, line: int, column: int = 0) -> Location:
        """The location of a line and column of the passage, both from 0."""
        if not self.rows:
            return Location(self.path)
        if line >= len(self.rows):
            last = self.rows[-1]
            return Location(self.path, last.number, len(last.line) + 1, last.line)
        row = self.rows[line]
        return Location(self.path, row.number, row.shift + column + 1, row.line)

    @property
    def lines(self) -> list[str]:
        return self.text.split("\n")

    def line(self, number: int) -> str:
        """The text of one line, from 0."""
        start = self.starts[number]
        end = self.text.find("\n", start)
        return self.text[start:] if end < 0 else self.text[start:end]

    def part(self, first: int, end: int) -> Passage:
        """The passage's own lines from `first` up to, not including, `end`."""
        return Passage(self.path, "\n".join(self.lines[first:end]), self.rows[first:end])

    def cut(self, text: str, first: int) -> Passage:
        """A text that Markdown took out of this passage from line `first` on, without marks and indents.

        Each of its lines is looked up in the line it came from, so that columns stay those of the file.
        """
        lines = text.split("\n")[: len(self.rows) - first]
        rows = [_row(self.rows[number], line, self.line(number)) for number, line in enumerate(lines, first)]
        return Passage(self.path, text, tuple(rows))


def file_passage(path: str, text: str) -> Passage:
    """A file's text as a passage."""
    rows = [Row(number, 0, line) for number, line in enumerate(text.split("\n"), 1)]
    return Passage(path, text, tuple(rows))


def _row(row: Row, line: str, own: str) -> Row:
    """`row` shifted to where `line` is in `own`, the passage's line that it was taken out of."""
    line, own = line.rstrip(), own.rstrip()
    at = len(own) - len(line) if own.endswith(line) else max(0, own.find(line.strip()))
    return Row(row.number, row.shift + at, row.line)
