"""What prose says about measures and bodies: references in braces, and the words left and right."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass, replace
from functools import cached_property, lru_cache
from typing import Literal

from markdown_it.token import Token

from lessonpress.manuscript.lesson.markdown import FORMS, MEASURE, scanner
from lessonpress.manuscript.text.passage import Passage, Row, file_passage
from lessonpress.manuscript.yaml.nodes import Scalar
from lessonpress.records import Location, Problems, nearest

Where = Literal["prose", "caption", "label", "alt", "lists"]


@dataclass(frozen=True)
class Reference:
    """A measure printed in text, or a link to a figure (`{figure:top}`: id "figure", form "top").

    id: as written, with what follows a dot ("knee.top"). form: None for the full print. where: what kind of
    text holds it; "lists" for the number that lists print. line: of the block's fence, None in running text.
    """

    id: str
    form: str | None
    location: Location
    where: Where = "prose"
    line: int | None = None

    @property
    def figure(self) -> str | None:
        """The id of the figure linked to, None for a measure."""
        return self.form if self.id == "figure" else None

    @property
    def base(self) -> str:
        """The id before the first dot."""
        return self.id.partition(".")[0]

    @property
    def sub(self) -> str:
        """What follows the first dot: an event, a place, first, second, difference; else ""."""
        return self.id.partition(".")[2]

    @property
    def text(self) -> str:
        return f"{{{self.id}:{self.form}}}" if self.form else f"{{{self.id}}}"


def references_in(
    passage: Passage,
    tokens: list[Token],
    problems: Problems,
    *,
    where: Where = "prose",
    line: int | None = None,
) -> tuple[Reference, ...]:
    """The references of a Markdown text that was parsed into `tokens`, mistakes in braces reported."""
    references = []
    for piece, token in inline_pieces(passage, tokens):
        for brace, at in _braces(token.children or [], token.content, 0):
            reference = _reference(brace, piece.at(at), problems, where, line)
            references += [reference] if reference else []
    return tuple(references)


def _braces(children: list[Token], content: str, base: int) -> Iterator[tuple[str, int]]:
    """What is in braces, with its offset in the inline text; a picture's alt text has its own tokens."""
    after = 0
    for token in children:
        if token.type in ("measure", "loose_brace"):
            yield token.content, base + token.meta["at"]
        elif token.type == "image":
            after = max(content.find(token.content, after), after)
            yield from _braces(token.children or [], token.content, base + after)


_BRACE = re.compile(r"\\.|\{[^{}\n]*\}|[{}]", re.DOTALL)


def references_in_plain(
    passage: Passage, problems: Problems, *, where: Where = "label", line: int | None = None
) -> tuple[Reference, ...]:
    """The references of a plain text, in which a backslash before a brace keeps it a brace."""
    braces = [brace for brace in _BRACE.finditer(passage.text) if not brace[0].startswith("\\")]
    read = [_reference(brace[0], passage.at(brace.start()), problems, where, line) for brace in braces]
    return tuple(reference for reference in read if reference)


def _reference(
    written: str, location: Location, problems: Problems, where: Where, line: int | None
) -> Reference | None:
    measure = MEASURE.fullmatch(written)
    if measure is None:
        return _no_reference(written, location, problems)
    name, form = str(measure["id"]), measure["form"]
    if name == "figure" and form is None:
        problems.error(location, "`{figure}` names no figure", "write `{figure:top}` with the figure's id")
        return None
    if name != "figure" and form not in (None, *FORMS):
        problems.error(
            location,
            f"there is no form `{form}`",
            f"forms are {', '.join(FORMS)}",
            nearest=nearest(form, FORMS),
        )
        return None
    return Reference(name, form, location, where, line)


def _no_reference(written: str, location: Location, problems: Problems) -> Reference | None:
    if written in "{}":
        wrong = (
            "a brace is opened and not closed" if written == "{" else "a brace is closed that was not opened"
        )
        problems.error(location, wrong, f"write `\\{written}` for a brace")
        return None
    slug = re.sub(r"[^a-z0-9.:-]+", "-", written[1:-1].strip().lower()).strip("-")
    near = (f"{{{slug}}}",) if MEASURE.fullmatch(f"{{{slug}}}") else ()
    right = "ids are small letters, digits and hyphens; write `\\{` for a brace"
    problems.error(location, f"`{written}` is not a measure's id", right, nearest=near)
    return None


def inline_pieces(passage: Passage, tokens: list[Token]) -> Iterator[tuple[Passage, Token]]:
    """Each run of inline Markdown (a paragraph, a heading, a table's cell) with its locations."""
    row, after = -1, 0
    for token in tokens:
        if token.type != "inline" or token.map is None:
            continue
        if "\n" in token.content:
            yield passage.cut(token.content, token.map[0]), token
            continue
        # the cells of a table share a row: each is looked for after the one before it
        piece, after = _in_row(passage, token, after if token.map[0] == row else 0)
        row = token.map[0]
        yield piece, token


def _in_row(passage: Passage, token: Token, after: int) -> tuple[Passage, int]:
    """A one-line run found in its row at or after a column, and the column where it ends."""
    number = token.map[0] if token.map else 0
    at = passage.line(number).find(token.content, after)
    if at < 0:
        return passage.cut(token.content, number), after
    row = passage.rows[number]
    moved = Row(row.number, row.shift + at, row.line)
    return Passage(passage.path, token.content, (moved,)), at + len(token.content)


_ADDRESS = re.compile(r"\]\([^()\s]*")


def without_code(text: str, token: Token) -> str:
    """The inline text with code spans and addresses of links blanked out."""
    for hidden in (*_codes(token), *_ADDRESS.findall(text)):
        text = text.replace(hidden, " " * len(hidden), 1)
    return text


def _codes(token: Token) -> Iterator[str]:
    text, after = token.content, 0
    for child in token.children or []:
        if child.type != "code_inline":
            continue
        span = re.compile(rf"(?<!`){child.markup}(?!`).+?(?<!`){child.markup}(?!`)", re.DOTALL).search(
            text, after
        )
        if span:
            after = span.end()
            yield span[0]


BODY = (
    "ankle|arm|armpit|buttock|calf|ear|elbow|eye|finger|foot|forearm|glute|hand|heel|hip|knee|leg|lat|"
    "shoulder|side|shin|thigh|thumb|toe|wrist"
)
_SIDED = re.compile(rf"\b(left|right)[ \n-]+((?:{BODY})(?:s|es)?|feet|calves)\b", re.IGNORECASE)


def sides_in(passage: Passage, tokens: list[Token], problems: Problems) -> None:
    """Warn of left and right said of the body: a mirrored picture makes them wrong."""
    for piece, token in inline_pieces(passage, tokens):
        text = without_code(piece.text, token)
        for said in _SIDED.finditer(text):
            location = piece.at(said.start())
            wrong = f"`{' '.join(said[0].split())}` is wrong once the picture is mirrored"
            problems.warn(location, wrong, f"say lead {said[2]} or trail {said[2]}")


FARTHEST = 80  # how many blanks, quotes and indents may be between two letters of a text in YAML


@dataclass(frozen=True)
class ScalarText:
    """The text of a YAML scalar to be read by itself, and the way back from it to the file.

    Quotes, indents and folded lines part what was written from what it says, so locations in `passage` are
    those of the text itself until `real` carries them back.
    """

    scalar: Scalar
    source: Passage

    @cached_property
    def passage(self) -> Passage:
        return file_passage(self.source.path, self.scalar.written)

    def real(self, location: Location) -> Location:
        """The location in the file of a location in the text."""
        before = self.passage.starts[location.line - 1] + location.column - 1
        return self.source.at(self._offsets[min(before, len(self._offsets) - 1)])

    @cached_property
    def _offsets(self) -> list[int]:
        """Of each character of the text its offset in the source: both are walked once, blanks left out."""
        start, end = self.scalar.span
        raw = self.source.text[:end]
        if self.scalar.style in ("|", ">"):
            start = raw.find("\n", start) + 1
        elif self.scalar.style:
            start += 1
        offsets = [start]
        for character in self.scalar.written:
            index = -1 if character.isspace() else raw.find(character, start, start + FARTHEST)
            if index >= 0:
                start = index + 1
            offsets.append(index if index >= 0 else offsets[-1])
        return offsets[1:] or offsets

    def references(self, problems: Problems, where: Where, line: int) -> tuple[Reference, ...]:
        """The references of the text: a caption is Markdown, all else is plain."""
        in_text = Problems()
        if where == "caption":
            references_there = references_in(
                self.passage, parse(self.passage), in_text, where=where, line=line
            )
        else:
            references_there = references_in_plain(self.passage, in_text, where=where, line=line)
        self.report(in_text, problems)
        return tuple(
            replace(reference, location=self.real(reference.location)) for reference in references_there
        )

    def report(self, in_text: Problems, problems: Problems) -> None:
        """Report what was found in the text at its location in the file."""
        for problem in in_text.collected:
            location = self.real(problem.location)
            problems.extend([replace(problem, location=location, source_line=location.source)])


def parse(passage: Passage) -> list[Token]:
    """The tokens of a Markdown text as the scanner sees it, for reading only: kept for who asks again."""
    text = passage.text
    return list(_tokens(text)) if len(text) <= _KEPT else scanner().parse(text)


_KEPT = 100_000  # characters; of longer texts memory would hold too many tokens


@lru_cache(
    maxsize=64
)  # the texts of a lesson or two: each is asked for references, words, pictures and links
def _tokens(text: str) -> tuple[Token, ...]:
    return tuple(scanner().parse(text))
