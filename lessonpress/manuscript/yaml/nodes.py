"""YAML composed to nodes that know their location: scalars, sequences and mappings.

Composed from PyYAML's events, so that depth and aliases are counted while reading and a small file cannot
grow into a large one.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field
from typing import Any

import yaml

from lessonpress.manuscript.text.passage import Passage
from lessonpress.manuscript.yaml.coreschema import TAG, Plain, construct, value_of
from lessonpress.manuscript.yaml.decimalcommas import comma_said, decimal_commas
from lessonpress.manuscript.yaml.escapes import made_whole, unprintable, without_unprintable
from lessonpress.manuscript.yaml.yamlmistakes import syntax_mistake
from lessonpress.records import Location, Problem, Problems

DEEPEST = 24  # levels of nesting; a card needs four
LARGEST = 200_000  # nodes of one text with every alias written out


@dataclass(frozen=True, slots=True)
class Scalar:
    """One value. written: its text; value: that text by the core schema.

    span: offsets of its first character and past its last in the passage it was composed from.
    style: "" for plain, else the quote, `|` or `>` that it begins with.
    """

    location: Location
    value: Plain
    written: str
    style: str = ""
    span: tuple[int, int] = (0, 0)

    @property
    def plain(self) -> Any:
        return self.value

    def location_of(self, *loc: str | int) -> Location:
        return self.location


@dataclass(frozen=True, slots=True)
class Sequence:
    """A list. flow: written in brackets."""

    location: Location
    items: tuple[Node, ...]
    flow: bool = False

    @property
    def plain(self) -> Any:
        return [item.plain for item in self.items]

    def location_of(self, *loc: str | int) -> Location:
        if loc and isinstance(loc[0], int) and -len(self.items) <= loc[0] < len(self.items):
            return self.items[loc[0]].location_of(*loc[1:])
        return self.location


_MANY = 24  # entries of a mapping, from which on going through them takes longer than looking them up


@dataclass(frozen=True, slots=True)
class Mapping:
    """Keys with values, in the order written. Keys are text as written: `12:` is the key "12"."""

    location: Location
    entries: tuple[tuple[Scalar, Node], ...]
    flow: bool = False
    _places: dict[str, int] = field(init=False, compare=False, repr=False)  # of keys, where they are many

    def __post_init__(self) -> None:
        many = self.entries if len(self.entries) > _MANY else ()
        places = {key.written: place for place, (key, _) in reversed([*enumerate(many)])}
        object.__setattr__(self, "_places", places)

    def _entry(self, name: str | int) -> tuple[Scalar, Node] | None:
        """The first entry of a key."""
        if len(self.entries) <= _MANY:
            return next((entry for entry in self.entries if entry[0].written == str(name)), None)
        place = self._places.get(str(name))
        return None if place is None else self.entries[place]

    @property
    def plain(self) -> Any:
        return {key.written: value.plain for key, value in self.entries}

    @property
    def keys(self) -> tuple[str, ...]:
        return tuple(key.written for key, _ in self.entries)

    def get(self, name: str | int) -> Node | None:
        """The value of a key, None where it is not written."""
        entry = self._entry(name)
        return None if entry is None else entry[1]

    def key_location(self, name: str | int) -> Location:
        """Where a key is written; the mapping's own location where it is not written."""
        entry = self._entry(name)
        return self.location if entry is None else entry[0].location

    def location_of(self, *loc: str | int) -> Location:
        """The location of the value at a path of keys and indices; of the deepest one there is on that path.

        An empty value has no location of its own and takes its key's.
        """
        value = self.get(loc[0]) if loc else None
        if value is None:
            return self.location
        if isinstance(value, Scalar) and value.value is None and not value.written:
            return self.key_location(loc[0])
        return value.location_of(*loc[1:])


Node = Scalar | Sequence | Mapping


def compose_yaml(passage: Passage, problems: Problems) -> Node | None:
    """The node that a YAML text is; None once a mistake that ends the reading has been reported.

    An empty text is a Scalar whose value is None.
    """
    reported = Problems()
    try:
        node = _composed(passage, reported, _FAST)
    except yaml.YAMLError:
        reported = Problems()
        node = _told_plainly(passage, reported)
    problems.extend(reported.collected)
    return node


# The compiled parser is ten times as fast, and says less about a mistake.
_FAST: Any = getattr(yaml, "CSafeLoader", yaml.SafeLoader)


def plain_yaml(text: str) -> Any:
    """Python's own values of a text that was found sound before, such as a file of the program's own.

    Raises yaml.YAMLError; depth is not bounded, so what an author writes is checked by other means first.
    """
    return yaml.load(text, Loader=_FAST)


def _composed(passage: Passage, problems: Problems, loader: Any) -> Node | None:
    try:
        return _Composer(passage, problems, loader).document()
    except _UnreadableError as stop:
        problems.extend([stop.problem])
    return None


def _told_plainly(passage: Passage, problems: Problems) -> Node | None:
    """The same by the parser written in Python, which the compiled one could not read."""
    try:
        return _composed(passage, problems, yaml.SafeLoader)
    except yaml.YAMLError as broken:
        problems.extend([syntax_mistake(broken, passage)])
    return None


class _UnreadableError(Exception):
    """A mistake after which the rest of the text cannot be read."""

    def __init__(self, location: Location, wrong: str, right: str) -> None:
        super().__init__(wrong)
        self.problem = Problem(location, wrong, right, location.source)


def _index(mark: Any) -> int:
    """The offset a parser's mark gives; the start where it made none."""
    return mark.index if mark is not None else 0


class _Composer:
    def __init__(self, passage: Passage, problems: Problems, loader: Any) -> None:
        self.passage = passage
        self.problems = problems
        self.events: Iterator[yaml.Event] = yaml.parse(passage.text, Loader=loader)
        self.anchors: dict[str, tuple[Node, int]] = {}
        self.size = 0

    def document(self) -> Node:
        next(self.events)  # the stream's start
        start = next(self.events)
        if not isinstance(start, yaml.DocumentStartEvent):
            return Scalar(self.passage.at(0), None, "")
        root = self.node(next(self.events), 1)
        next(self.events)  # the document's end
        after = next(self.events)
        if isinstance(after, yaml.DocumentStartEvent):
            raise _UnreadableError(
                self.at(after), "a second document starts here", "one file holds one document"
            )
        return root

    def at(self, event: yaml.Event) -> Location:
        return self.passage.at(_index(event.start_mark))

    def node(self, event: yaml.Event, depth: int) -> Node:
        """The node an event begins. Counts it, and the nodes below it, into `size`."""
        before, anchor = self.size, getattr(event, "anchor", None)
        self.grow(1, event)
        if depth > DEEPEST:
            raise _UnreadableError(self.at(event), f"nested deeper than {DEEPEST} levels", "write it flatter")
        made = self.made(event, depth)
        if anchor and not isinstance(event, yaml.AliasEvent):
            self.anchors[anchor] = (made, self.size - before)
        return made

    def made(self, event: yaml.Event, depth: int) -> Node:
        if isinstance(event, yaml.AliasEvent):
            return self.alias(event)
        if isinstance(event, yaml.ScalarEvent):
            return self.scalar(event)
        if isinstance(event, yaml.SequenceStartEvent):
            return self.sequence(event, depth)
        assert isinstance(event, yaml.MappingStartEvent)
        return self.mapping(event, depth)

    def grow(self, by: int, event: yaml.Event) -> None:
        self.size += by
        if self.size > LARGEST:
            wrong = f"the text holds more than {LARGEST} values once its aliases are written out"
            raise _UnreadableError(self.at(event), wrong, "write out what is meant, without `&` and `*`")

    def alias(self, event: yaml.AliasEvent) -> Node:
        name = event.anchor
        if name not in self.anchors:
            raise _UnreadableError(
                self.at(event),
                f"`*{name}` repeats a value that no `&{name}` names",
                "put quotes round text with a `*`",
            )
        node, size = self.anchors[name]
        self.grow(size, event)
        return node

    def scalar(self, event: yaml.ScalarEvent) -> Scalar:
        text = self.printable(event) if event.style == '"' else event.value
        span = (_index(event.start_mark), _index(event.end_mark))
        if event.tag in (None, "!"):
            value = value_of(text) if event.implicit[0] and event.tag is None else text
        else:
            value = self.tagged(event, text)
        return Scalar(self.at(event), value, text, event.style or "", span)

    def printable(self, event: yaml.ScalarEvent) -> str:
        """The text of a value in double quotes, its escapes read; what cannot be printed is reported."""
        text = made_whole(event.value)
        bad = unprintable(text)
        if bad is None:
            return text
        what = "half a character" if "\ud800" <= bad <= "\udfff" else "no character that can be printed"
        self.problems.error(self.at(event), f"an escape here is U+{ord(bad):04X}, {what}", "take it out")
        return without_unprintable(text)

    def tagged(self, event: yaml.ScalarEvent, text: str) -> Plain:
        tag = str(event.tag).removeprefix(TAG)
        try:
            return construct(tag, text)
        except (KeyError, ValueError):
            wrong = f"the tag `!{tag}` is not read here"
            raise _UnreadableError(self.at(event), wrong, "leave out what begins with `!`") from None

    def check_tag(self, event: yaml.Event, expected: str) -> None:
        tag = getattr(event, "tag", None)
        if tag not in (None, "!", TAG + expected):
            wrong = f"the tag `!{str(tag).removeprefix(TAG).removeprefix('!')}` is not read here"
            raise _UnreadableError(self.at(event), wrong, "leave out what begins with `!`")

    def sequence(self, event: yaml.SequenceStartEvent, depth: int) -> Sequence:
        self.check_tag(event, "seq")
        items = []
        while not isinstance(inner := next(self.events), yaml.SequenceEndEvent):
            items.append(self.node(inner, depth + 1))
        if event.flow_style:
            items = self.without_commas(items)
        return Sequence(self.at(event), tuple(items), bool(event.flow_style))

    def without_commas(self, items: list[Node]) -> list[Node]:
        """The items with the numbers joined that decimal commas cut in two."""
        scalars = [item if isinstance(item, Scalar) else None for item in items]
        for at in reversed(decimal_commas(scalars)):
            number, rest = scalars[at - 1], scalars[at]
            assert number is not None and rest is not None
            items[at - 1 : at + 1] = [self.joined(number, rest, in_a_list=True)]
        return items

    def mapping(self, event: yaml.MappingStartEvent, depth: int) -> Mapping:
        self.check_tag(event, "map")
        entries: dict[str, tuple[Scalar, Node]] = {}
        while not isinstance(inner := next(self.events), yaml.MappingEndEvent):
            key = self.node(inner, depth + 1)
            value = self.node(next(self.events), depth + 1)
            if not (event.flow_style and self.after_a_comma(entries, key, value)):
                self.enter(entries, key, value)
        return Mapping(self.at(event), tuple(entries.values()), bool(event.flow_style))

    def after_a_comma(self, entries: dict[str, tuple[Scalar, Node]], key: Node, value: Node) -> bool:
        """Whether a key of a flow mapping is the rest of the number before it, `{length: 91,4 cm}`.

        That is reported, and the number read as it was meant.
        """
        before = next(reversed(entries.values()), None)
        if before is None or not isinstance(key, Scalar) or not isinstance(value, Scalar):
            return False
        name, number = before
        if value.written or not isinstance(number, Scalar) or number.span[1] + 1 != key.span[0]:
            return False
        if not (number.written[-1:].isdigit() and key.written[:1].isdigit()):
            return False
        entries[name.written] = (name, self.joined(number, key, in_a_list=False))
        return True

    def joined(self, number: Scalar, rest: Scalar, *, in_a_list: bool) -> Scalar:
        """The number that a decimal comma cut in two, as it was meant; the comma is reported."""
        wrong, right = comma_said(number.written, rest.written, in_a_list=in_a_list)
        self.problems.error(number.location, wrong, right)
        meant = f"{number.written}.{rest.written}"
        return Scalar(number.location, value_of(meant), meant, "", (number.span[0], rest.span[1]))

    def enter(self, entries: dict[str, tuple[Scalar, Node]], key: Node, value: Node) -> None:
        """Add a key with its value; a key that is no text, or is there already, is reported and left out."""
        if not isinstance(key, Scalar):
            self.problems.error(
                key.location, "a key is a list or a mapping here", "a key is plain text before a colon"
            )
        elif key.written in entries:
            first = entries[key.written][0].location.line
            wrong = f"`{key.written}` is written twice; the first is in line {first}"
            self.problems.error(key.location, wrong, "keep one of the two")
        else:
            entries[key.written] = (key, value)
