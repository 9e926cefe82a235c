"""`withdrawn.yaml`: the lessons that were withdrawn, and the addresses at which a note says so.

`lessonpress withdraw` writes an item for each lesson that it takes out. A press puts a note at its addresses
and nothing else of it: the file says neither which clip nor whose.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable
from datetime import date
from pathlib import Path
from typing import Annotated

from pydantic import AfterValidator, Field

from lessonpress.manuscript.fields.fieldtypes import DateText, Text
from lessonpress.manuscript.fields.invalid_value import InvalidValueError
from lessonpress.manuscript.fields.written import Written, read_fields
from lessonpress.manuscript.lesson.lessonchecks import OWN
from lessonpress.manuscript.site.formerpath import as_one_file, file_at, former_path
from lessonpress.manuscript.text.files import read_text
from lessonpress.manuscript.yaml.nodes import Scalar, Sequence, compose_yaml
from lessonpress.manuscript.yaml.writing import written
from lessonpress.records import Problems

WITHDRAWN = "withdrawn.yaml"
_HEAD = "# Lessons that were withdrawn. Each address keeps a note that says so; an item taken out, none.\n"


def _address(text: str) -> str:
    path = former_path(text)
    if as_one_file(path).partition("/")[0] in OWN:
        raise InvalidValueError(f"`{path}` belongs to the site's own pages", "name where the lesson was")
    return path


class Withdrawn(Written):
    """A lesson that was withdrawn. lesson: its file from the site's folder, which others may link to.

    addresses: where it was, as `former_path` has them, that of its page first.
    """

    lesson: Text = Field(examples=["lessons/the-hub.md"])
    on: DateText = Field(examples=["2026-11-29"])
    addresses: tuple[Annotated[Text, AfterValidator(_address)], ...] = Field(examples=["[lessons/the-hub]"])

    @property
    def pages(self) -> tuple[str, ...]:
        """The files at its addresses, from the root of the pressed site."""
        return tuple(map(file_at, self.addresses))


def read_withdrawn(root: Path, top: Collection[str], problems: Problems) -> tuple[Withdrawn, ...]:
    """The items of the file, in its order. top: what lies in the site's folder."""
    if WITHDRAWN not in top:
        return ()
    passage = read_text(root, root / WITHDRAWN, problems)
    node = compose_yaml(passage, problems) if passage else None
    if isinstance(node, Sequence):
        read = [read_fields(Withdrawn, item, problems) for item in node.items]
        return tuple(one for one in read if one is not None)
    if node is not None and not (isinstance(node, Scalar) and node.value is None):
        problems.error(node.location, "a list of lessons is expected here", "begin each with `- {lesson: …`")
    return ()


def notes_at(withdrawn: Iterable[Withdrawn], taken: Collection[str]) -> tuple[str, ...]:
    """The files of the notes, each once. taken: files of lessons that are there again, or redirect."""
    there = {as_one_file(path) for path in taken}
    pages = dict.fromkeys(page for one in withdrawn for page in one.pages)
    return tuple(page for page in pages if as_one_file(page) not in there)


def with_withdrawn(text: str, lessons: Iterable[tuple[str, date, tuple[str, ...]]]) -> str:
    """The file's text with an item for each lesson at its end: its file, the day, its addresses."""
    begun = text or _HEAD
    begun += "" if begun.endswith("\n") else "\n"
    return begun + "".join(
        f"- {written({'lesson': path, 'on': on.isoformat(), 'addresses': list(addresses)})}\n"
        for path, on, addresses in lessons
    )


def without_withdrawn(text: str, items: Iterable[Withdrawn], lessons: Collection[str]) -> str:
    """The file's text without the items of these lessons' files. items: all that were read from it."""
    every = list(items)
    lines = text.splitlines(keepends=True)
    starts = [one.location_of().line - 1 for one in every]
    ends = [*starts[1:], len(lines)]
    gone = {
        line
        for one, start, end in zip(every, starts, ends, strict=True)
        if one.lesson in lessons
        for line in range(start, end)
    }
    return "".join(line for number, line in enumerate(lines) if number not in gone)
