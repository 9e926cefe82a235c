"""A lesson: front matter, Markdown, and fenced blocks that are figures, cautions, drills and examples."""

from __future__ import annotations

import datetime
import re
import unicodedata
from collections.abc import Callable, Collection, Iterable, Iterator
from dataclasses import dataclass, replace
from typing import Annotated, Any, TypeVar

from markdown_it.token import Token
from pydantic import AfterValidator, BeforeValidator, Field

from lessonpress.manuscript.fields.fieldtypes import DateText, Meant, Text, Whole, YesNo
from lessonpress.manuscript.fields.invalid_value import InvalidValueError
from lessonpress.manuscript.fields.written import Written
from lessonpress.manuscript.lesson.crowded import is_crowded
from lessonpress.manuscript.lesson.fences import closed, fence_location
from lessonpress.manuscript.lesson.filelinks import FileLink, check_pictures, files_in
from lessonpress.manuscript.lesson.frontmatter import read_front
from lessonpress.manuscript.lesson.kinds import EXAMPLE, FIGURE_KINDS, KINDS, Kind, kind_and_rest
from lessonpress.manuscript.lesson.markdown import MEASURE
from lessonpress.manuscript.lesson.privateaddress import PrivateAddress
from lessonpress.manuscript.lesson.prose import Reference, ScalarText, Where, parse, references_in, sides_in
from lessonpress.manuscript.lesson.rawhtml import html_in
from lessonpress.manuscript.lesson.sourcelinks import SourceLink, links_in
from lessonpress.manuscript.site.formerpath import former_path, is_former_path
from lessonpress.manuscript.text.passage import Passage
from lessonpress.manuscript.yaml.mending import compose_mended
from lessonpress.manuscript.yaml.nodes import Mapping, Node, Scalar, Sequence
from lessonpress.records import Location, Problems, nearest

LONGEST_TOPIC = 200  # bytes; names of files have up to 255
L = TypeVar("L", SourceLink, FileLink)
EXAMPLE_MARKS = 4  # the blocks inside an example are fenced by three


def _one_or_many(value: Any) -> Any:
    return value if isinstance(value, list | tuple) else [value]


def _topic(text: str) -> str:
    if len(unicodedata.normalize("NFKC", text).casefold().encode()) > LONGEST_TOPIC:
        right = f"up to {LONGEST_TOPIC} bytes: its page is called after it"
        raise InvalidValueError("the topic is too long", right)
    return text


def _measure(text: str) -> str:
    if not MEASURE.fullmatch(f"{{{text}}}") or ":" in text:
        right = "write it as in the text, without braces: `navel-back`, or `lean.impact` of a strip"
        raise InvalidValueError(f"`{text}` is no measure's id", right)
    return text


MeasureId = Annotated[Text, AfterValidator(_measure)]
Topic = Annotated[Text, AfterValidator(_topic)]
OneOrMany = Annotated[tuple[Text, ...], BeforeValidator(_one_or_many)]


class Front(Written):
    """The front matter of a lesson. clip: the default for its figures. measure: the id of the number that
    lists print beside its title.

    former: earlier paths of it as written, the first first. addressee: the one person it is for. address: the
    last part of the address of such a lesson, which cannot be guessed. meant: findings that the author
    answers, by id.
    """

    title: Text = Field(examples=["The pelvis travels, the hub stays"])
    date: DateText = Field(examples=["2026-11-23"])
    summary: str = ""
    clip: Text | None = None
    number: Annotated[Whole, Field(ge=1)] | None = None
    measure: MeasureId | None = None
    topics: Annotated[tuple[Topic, ...], BeforeValidator(_one_or_many)] = ()
    series: Text | None = None
    updated: DateText | None = None
    draft: YesNo = False
    listed: YesNo = True
    author: Text | None = None
    addressee: Text | None = Field(default=None, alias="for")
    address: PrivateAddress | None = None
    former: OneOrMany = ()
    meant: Meant = Field(default_factory=dict)


@dataclass(frozen=True)
class Block:
    """A fenced block that the press sets: a figure (node) or a text (text, Markdown).

    line: the file's line of the fence, from 1. node: what a figure's YAML says, None for texts and where it
    could not be read. text: the block's body as written. passage: the body with its locations. example: the
    line of the example that the block is in, None outside of one.
    """

    kind: Kind
    line: int
    node: Mapping | None
    text: str
    location: Location
    passage: Passage
    example: int | None = None

    @property
    def is_figure(self) -> bool:
        return self.kind in FIGURE_KINDS

    def location_of(self, *loc: str | int) -> Location:
        return self.node.location_of(*loc) if self.node else self.location


@dataclass(frozen=True)
class Lesson:
    """One lesson as written. path: relative to the site. body_line: the file's line on which body begins.

    blocks: in the order of the file, those inside an example after the example itself. links: those to other
    lessons and pages. files: those to files and pictures. held: whether its day is still to come.
    """

    name: str
    path: str
    front: Front
    body: str
    body_line: int
    blocks: tuple[Block, ...] = ()
    references: tuple[Reference, ...] = ()
    links: tuple[SourceLink, ...] = ()
    files: tuple[FileLink, ...] = ()
    held: bool = False

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
    def withheld(self) -> bool:
        """Whether it gets no page, unless that is asked for: a draft, or one whose day is still to come."""
        return self.draft or self.held

    @property
    def listed(self) -> bool:
        """Whether lists, feeds and the map have it. One that is withheld is in none."""
        return self.front.listed and not self.private and not self.withheld

    @property
    def private(self) -> bool:
        """Whether it is for one person alone."""
        return self.front.addressee is not None

    @property
    def folder(self) -> str:
        """The name of its page's folder under `lessons/`: its own, or one that cannot be guessed."""
        return (self.front.address or self.name) if self.private else self.name

    def on(self, today: datetime.date) -> Lesson:
        """The lesson as it is on a day."""
        held = self.date > today
        return self if held == self.held else replace(self, held=held)

    @property
    def author(self) -> str | None:
        return self.front.author

    @property
    def former(self) -> tuple[str, ...]:
        """Its earlier paths, as `former_path` has them; lessonchecks reports those that are none."""
        return tuple(former_path(path) for path in self.front.former if is_former_path(path))

    @property
    def meant(self) -> Meant:
        """The findings of the last look that the author answers, each with the reason."""
        return self.front.meant

    def location_of(self, *loc: str | int) -> Location:
        """A location in the front matter."""
        return self.front.location_of(*loc)

    def block_at(self, line: int) -> Block | None:
        """The block whose fence is in a line of the file."""
        return next((block for block in self.blocks if block.line == line), None)


def read_lesson(name: str, passage: Passage, problems: Problems) -> Lesson | None:
    """A lesson from its text; None where its front matter makes none. Its body is checked in any case."""
    front, start = read_front(Front, passage, problems, "a lesson")
    body = passage.part(start, len(passage.rows))
    if is_crowded(body, problems):
        return None
    whole, left_open = closed(body, problems)
    tokens = parse(whole)
    blocks = tuple(_blocks(whole, tokens, left_open, problems))
    references = [*references_in(whole, tokens, problems)]
    check_words(whole, tokens, problems)
    for block in blocks:
        references += _references_of(block, problems)
    _check_ids(blocks, problems)
    if front is None:
        return None
    if front.measure is not None:
        references.append(Reference(front.measure, None, front.location_of("measure"), "lists"))
    references.sort(key=lambda reference: reference.location)
    texts = [whole, *(text for block in blocks for text in _linking(block))]
    links, files = tuple(_links(links_in, texts)), tuple(_links(files_in, texts))
    return Lesson(name, passage.path, front, body.text, start + 1, blocks, tuple(references), links, files)


def check_words(passage: Passage, tokens: list[Token], problems: Problems) -> None:
    """What is wrong with the words of a text by themselves."""
    sides_in(passage, tokens, problems)
    check_pictures(passage, tokens, problems)
    html_in(passage, tokens, problems)


def _blocks(
    text: Passage,
    tokens: list[Token],
    left_open: Collection[int],
    problems: Problems,
    example: int | None = None,
) -> Iterator[Block]:
    """The blocks of a text. left_open: lines of fences that the author did not close.

    example: the line of the example whose body the text is.
    """
    for token in tokens:
        if token.type != "fence" or token.map is None:
            continue
        kind, rest = kind_and_rest(token.info)
        location = fence_location(text, token)
        passage = text.cut(token.content.removesuffix("\n"), token.map[0] + 1)
        if kind not in KINDS:
            kind = _misspelt(kind, location, passage, problems)
        if kind not in KINDS or (location.line in left_open and not passage.text.strip()):
            continue
        if rest:
            right = "the fence takes the kind alone; an id is a line `id: …` inside"
            problems.error(location, f"`{rest}` follows the kind", right)
        if kind == EXAMPLE:
            yield from _example(location, passage, token.markup, problems, example)
        else:
            yield _block(kind, location, passage, problems, example)


_READS_LIKE_A_FIGURE = re.compile(r"^\s*(?:id|at|frames|of|from|draw)\s*:", re.MULTILINE)


def _misspelt(kind: str, location: Location, passage: Passage, problems: Problems) -> str:
    """The kind that is meant by a misspelt one whose body reads like a figure; "" for what is code."""
    near = nearest(kind.lower(), KINDS, most=1)
    if near and near[0] in FIGURE_KINDS and _READS_LIKE_A_FIGURE.search(passage.text):
        problems.error(location, f"`{kind}` is not a kind of block", nearest=near)
        return near[0]
    if near:
        problems.warn(location, f"`{kind}` is not a kind of block, so this is shown as code", nearest=near)
    return ""


def _example(
    location: Location, passage: Passage, marks: str, problems: Problems, within: int | None
) -> Iterator[Block]:
    """The example and the blocks of its body, which is read as a lesson's is."""
    if within is not None:
        problems.error(
            location, f"an example is inside the one of line {within}", "close that one before this"
        )
        return
    if len(marks) < EXAMPLE_MARKS:
        fence = marks[0] * EXAMPLE_MARKS
        problems.error(
            location, "the blocks inside would close this example", f"open and close it with {fence} or more"
        )
        return
    yield _block(EXAMPLE, location, passage, problems, None)
    inner, left_open = closed(passage, problems)
    yield from _blocks(inner, parse(inner), left_open, problems, location.line)


def _block(kind: Any, location: Location, passage: Passage, problems: Problems, example: int | None) -> Block:
    node: Node | None = None
    if kind in FIGURE_KINDS:
        node = _figure_node(kind, location, passage, problems)
    elif not passage.text.strip():
        problems.error(location, f"the {kind} is empty", "write its text between the fences")
    mapping = node if isinstance(node, Mapping) else None
    return Block(kind, location.line, mapping, passage.text, location, passage, example)


def _figure_node(kind: str, location: Location, passage: Passage, problems: Problems) -> Node | None:
    node = compose_mended(passage, problems) if passage.text.strip() else Scalar(location, None, "")
    if isinstance(node, Scalar) and node.value is None:
        problems.error(location, f"the {kind} is empty", "write its `key: value` lines between the fences")
    elif node is not None and not isinstance(node, Mapping):
        problems.error(node.location, f"a {kind} is written as `key: value` lines", "begin with `id: …`")
    return node


# keys of figures whose text prints measures, and what kind of text it is
PRINTING: dict[str, Where] = {"caption": "caption", "alt": "alt", "label": "label", "text": "label"}


def _references_of(block: Block, problems: Problems) -> list[Reference]:
    if not block.is_figure:
        tokens = parse(block.passage)
        check_words(block.passage, tokens, problems)
        return [*references_in(block.passage, tokens, problems, line=block.line)]
    references: list[Reference] = []
    for where, scalar in printed_texts(block):
        text = ScalarText(scalar, block.passage)
        references += text.references(problems, where, block.line)
        in_text = Problems()
        check_words(text.passage, parse(text.passage), in_text)
        text.report(in_text, problems)
    return references


def _linking(block: Block) -> Iterator[ScalarText | Passage]:
    """The texts of a block that may hold links: a text's body, a figure's captions."""
    if not block.is_figure:
        yield block.passage
    for where, scalar in printed_texts(block):
        if where == "caption":
            yield ScalarText(scalar, block.passage)


def _links(
    find: Callable[[Passage, list[Token]], Iterator[L]], texts: Iterable[ScalarText | Passage]
) -> Iterator[L]:
    """What `find` finds in each text, with its location in the file."""
    for text in texts:
        if isinstance(text, Passage):
            yield from find(text, parse(text))
        else:
            for link in find(text.passage, parse(text.passage)):
                yield replace(link, location=text.real(link.location))


def printed_texts(block: Block) -> Iterator[tuple[Where, Scalar]]:
    """The texts of a figure that are printed, each with what kind of text it is."""
    if block.node is not None:
        yield from _printed(block.node)


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
            problems.error(node.location, wrong, "ids are given once in a lesson")
        lines.setdefault(node.written, block.line)
