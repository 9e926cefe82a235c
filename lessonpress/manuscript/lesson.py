"""A lesson: front matter, Markdown, and fenced blocks that are figures, cautions, drills and examples."""

from __future__ import annotations

import datetime
import re
import unicodedata
from collections.abc import Iterator
from dataclasses import dataclass, replace
from typing import Annotated, Any, Literal

from markdown_it.token import Token
from pydantic import AfterValidator, BeforeValidator, Field

from lessonpress.manuscript.fieldtypes import DateText, Text, Whole, YesNo
from lessonpress.manuscript.formerpath import former_path, is_former_path
from lessonpress.manuscript.frontmatter import read_front
from lessonpress.manuscript.nodes import Mapping, Node, Scalar, Sequence, compose
from lessonpress.manuscript.passage import Passage
from lessonpress.manuscript.prose import Reference, ScalarText, Where, parse, references_in, sides_in
from lessonpress.manuscript.sourcelinks import SourceLink, links_in
from lessonpress.manuscript.written import Written
from lessonpress.manuscript.wrong import WrongError
from lessonpress.records.problem import Place, Problems, nearest

FIGURE_KINDS = ("frame", "strip", "pair", "loop", "progress")
TEXT_KINDS = ("caution", "drill")
EXAMPLE = "example"
KINDS = (*FIGURE_KINDS, *TEXT_KINDS, EXAMPLE)
Kind = Literal["frame", "strip", "pair", "loop", "progress", "caution", "drill", "example"]
LONGEST_TOPIC = 200  # bytes; names of files have up to 255
EXAMPLE_MARKS = 4  # the blocks inside an example are fenced by three


def _one_or_many(value: Any) -> Any:
    return value if isinstance(value, list | tuple) else [value]


def _topic(text: str) -> str:
    if len(unicodedata.normalize("NFKC", text).casefold().encode()) > LONGEST_TOPIC:
        right = f"up to {LONGEST_TOPIC} bytes: its page is called after it"
        raise WrongError("the topic is too long", right)
    return text


Topic = Annotated[Text, AfterValidator(_topic)]
OneOrMany = Annotated[tuple[Text, ...], BeforeValidator(_one_or_many)]


class Front(Written):
    """The front matter of a lesson. clip: the default for its figures.

    former: earlier paths of it as written, the first first.
    """

    title: Text = Field(examples=["The pelvis travels, the hub stays"])
    date: DateText = Field(examples=["2026-11-23"])
    summary: str = ""
    clip: Text | None = None
    number: Annotated[Whole, Field(ge=1)] | None = None
    topics: Annotated[tuple[Topic, ...], BeforeValidator(_one_or_many)] = ()
    series: Text | None = None
    updated: DateText | None = None
    draft: YesNo = False
    listed: YesNo = True
    author: Text | None = None
    former: OneOrMany = ()


@dataclass(frozen=True)
class Block:
    """A fenced block that the press sets: a figure (node) or a text (text, Markdown).

    line: the file's line of the fence, from 1. node: what a figure's YAML says, None for texts and where it
    could not be read. text: the block's body as written. passage: the body with its places. example: the
    line of the example that the block stands in, None outside of one.
    """

    kind: Kind
    line: int
    node: Mapping | None
    text: str
    place: Place
    passage: Passage
    example: int | None = None

    @property
    def is_figure(self) -> bool:
        return self.kind in FIGURE_KINDS

    def place_of(self, *loc: str | int) -> Place:
        return self.node.place_of(*loc) if self.node else self.place


@dataclass(frozen=True)
class Lesson:
    """One lesson as written. path: relative to the site. body_line: the file's line on which body begins.

    blocks: in the order of the file, those inside an example after the example itself. links: those to other
    lessons and pages.
    """

    name: str
    path: str
    front: Front
    body: str
    body_line: int
    blocks: tuple[Block, ...] = ()
    references: tuple[Reference, ...] = ()
    links: tuple[SourceLink, ...] = ()

    @property
    def title(self) -> str:
        return self.front.title

    @property
    def date(self) -> datetime.date:
        return self.front.date

    @property
    def summary(self) -> str:
        return self.front.summary

    @property
    def clip(self) -> str | None:
        return self.front.clip

    @property
    def number(self) -> int | None:
        return self.front.number

    @property
    def topics(self) -> tuple[str, ...]:
        return self.front.topics

    @property
    def series(self) -> str | None:
        return self.front.series

    @property
    def updated(self) -> datetime.date | None:
        return self.front.updated

    @property
    def draft(self) -> bool:
        return self.front.draft

    @property
    def listed(self) -> bool:
        return self.front.listed

    @property
    def author(self) -> str | None:
        return self.front.author

    @property
    def former(self) -> tuple[str, ...]:
        """Its earlier paths, as `former_path` has them; those that are none are told by lessonchecks."""
        return tuple(former_path(path) for path in self.front.former if is_former_path(path))

    def place_of(self, *loc: str | int) -> Place:
        """A place in the front matter."""
        return self.front.place_of(*loc)

    def block_at(self, line: int) -> Block | None:
        """The block whose fence stands in a line of the file."""
        return next((block for block in self.blocks if block.line == line), None)


def read_lesson(name: str, passage: Passage, problems: Problems) -> Lesson | None:
    """A lesson from its text; None where its front matter makes none. Its body is checked in any case."""
    front, start = read_front(Front, passage, problems, "a lesson")
    body = passage.part(start, len(passage.rows))
    tokens = parse(body)
    blocks = tuple(_blocks(body, tokens, problems))
    references = [*references_in(body, tokens, problems)]
    sides_in(body, tokens, problems)
    for block in blocks:
        references += _references_of(block, problems)
    _check_ids(blocks, problems)
    if front is None:
        return None
    references.sort(key=lambda reference: reference.place)
    links = (*links_in(body, tokens), *(link for block in blocks for link in _links_of(block)))
    return Lesson(name, passage.path, front, body.text, start + 1, blocks, tuple(references), links)


def _blocks(
    body: Passage, tokens: list[Token], problems: Problems, example: int | None = None
) -> Iterator[Block]:
    """The blocks of a text. example: the line of the example whose body the text is."""
    for token in tokens:
        if token.type != "fence" or token.map is None:
            continue
        kind, rest = _kind_and_rest(token)
        place = fence_place(body, token)
        if kind in KINDS:
            passage = body.cut(token.content.removesuffix("\n"), token.map[0] + 1)
            if not _check_fence(token, body, place, rest, problems):
                continue
            if kind == EXAMPLE:
                yield from _example(place, passage, token.markup, problems, example)
            else:
                yield _block(kind, place, passage, problems, example)
        elif near := nearest(kind.lower(), KINDS, most=1):
            problems.warn(place, f"`{kind}` is no kind of block, so this is shown as code", nearest=near)


def _example(
    place: Place, passage: Passage, marks: str, problems: Problems, within: int | None
) -> Iterator[Block]:
    """The example and the blocks of its body, which is read as a lesson's is."""
    if within is not None:
        problems.error(
            place, f"an example stands inside the one of line {within}", "close that one before this"
        )
        return
    if len(marks) < EXAMPLE_MARKS:
        fence = marks[0] * EXAMPLE_MARKS
        problems.error(
            place, "the blocks inside would close this example", f"open and close it with {fence} or more"
        )
        return
    yield _block(EXAMPLE, place, passage, problems, None)
    yield from _blocks(passage, parse(passage), problems, place.line)


def _kind_and_rest(token: Token) -> tuple[str, str]:
    """The first word of a fence, and what follows it."""
    kind, *rest = token.info.split(None, 1) or [""]
    return kind, " ".join(rest).strip()


def fence_place(body: Passage, token: Token) -> Place:
    """Where a fenced block opens."""
    line = token.map[0] if token.map else 0
    return body.spot(line, max(0, body.line(line).find(token.markup)))


def _check_fence(token: Token, body: Passage, place: Place, rest: str, problems: Problems) -> bool:
    """Whether the block is closed, so that its text can be told from what follows."""
    assert token.map is not None
    if rest:
        right = "the fence takes the kind alone; an id is a line `id: …` inside"
        problems.error(place, f"`{rest}` stands after the kind", right)
    last = body.line(token.map[1] - 1).strip(" \t>")
    closed = re.fullmatch(rf"{re.escape(token.markup)}{re.escape(token.markup[0])}*", last)
    if not closed or token.map[1] - token.map[0] < 2:
        problems.error(place, "the block opened here is not closed", f"close it with a line {token.markup}")
        return False
    return True


def _block(kind: Any, place: Place, passage: Passage, problems: Problems, example: int | None) -> Block:
    node: Node | None = None
    if kind in FIGURE_KINDS:
        node = _figure_node(kind, place, passage, problems)
    elif not passage.text.strip():
        problems.error(place, f"the {kind} is empty", "write its text between the fences")
    found = node if isinstance(node, Mapping) else None
    return Block(kind, place.line, found, passage.text, place, passage, example)


def _figure_node(kind: str, place: Place, passage: Passage, problems: Problems) -> Node | None:
    node = compose(passage, problems) if passage.text.strip() else Scalar(place, None, "")
    if isinstance(node, Scalar) and node.value is None:
        problems.error(place, f"the {kind} is empty", "write its `key: value` lines between the fences")
    elif node is not None and not isinstance(node, Mapping):
        problems.error(node.place, f"a {kind} is written as `key: value` lines", "begin with `id: …`")
    return node


# keys of figures whose text prints measures, and what kind of text it is
PRINTING: dict[str, Where] = {"caption": "caption", "alt": "alt", "label": "label", "text": "label"}


def _references_of(block: Block, problems: Problems) -> list[Reference]:
    if not block.is_figure:
        tokens = parse(block.passage)
        sides_in(block.passage, tokens, problems)
        return [*references_in(block.passage, tokens, problems, line=block.line)]
    found: list[Reference] = []
    for where, scalar in _printed(block.node) if block.node else ():
        text = ScalarText(scalar, block.passage)
        found += text.references(problems, where, block.line)
        told = Problems()
        sides_in(text.passage, parse(text.passage), told)
        text.tell(told, problems)
    return found


def _links_of(block: Block) -> Iterator[SourceLink]:
    """The links in a text's body or in a figure's caption."""
    if not block.is_figure:
        yield from links_in(block.passage, parse(block.passage))
    for where, scalar in _printed(block.node) if block.node else ():
        if where == "caption":
            text = ScalarText(scalar, block.passage)
            for link in links_in(text.passage, parse(text.passage)):
                yield replace(link, place=text.real(link.place))


def _printed(node: Node) -> Iterator[tuple[Where, Scalar]]:
    """The scalars of a figure that are printed, wherever they are in it."""
    if isinstance(node, Sequence):
        for item in node.items:
            yield from _printed(item)
    elif isinstance(node, Mapping):
        for key, value in node.entries:
            if key.written in PRINTING and isinstance(value, Scalar):
                if isinstance(value.value, str):
                    yield PRINTING[key.written], value
            else:
                yield from _printed(value)


def _check_ids(blocks: tuple[Block, ...], problems: Problems) -> None:
    """Two figures of a lesson have two ids."""
    lines: dict[str, int] = {}
    for block in blocks:
        node = block.node.get("id") if block.node else None
        if not isinstance(node, Scalar):
            continue
        if node.written in lines:
            wrong = f"the id `{node.written}` is taken by the block in line {lines[node.written]}"
            problems.error(node.place, wrong, "ids are given once in a lesson")
        lines.setdefault(node.written, block.line)
