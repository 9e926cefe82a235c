"""`withdrawn.yaml`: the lessons that were withdrawn or put away, and the addresses at which a note says so.

`lessonpress withdraw` writes an item for each lesson that it takes out, the desk for each published one that
it puts away. A press puts a note at its addresses and nothing else of it: the file says neither which clip
nor whose.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable
from datetime import date
from pathlib import Path
from typing import Annotated

from pydantic import AfterValidator, Field

from lessonpress.manuscript.fields.fieldtypes import DateText, Text, YesNo
from lessonpress.manuscript.fields.invalid_value import InvalidValueError
from lessonpress.manuscript.fields.written import Written, read_fields
from lessonpress.manuscript.lesson.lessonchecks import OWN
from lessonpress.manuscript.site.formerpath import as_one_file, file_at, former_path
from lessonpress.manuscript.text.files import read_text
from lessonpress.manuscript.yaml.nodes import Scalar, Sequence, compose_yaml
from lessonpress.manuscript.yaml.writing import written
from lessonpress.records import Problems

WITHDRAWN = "withdrawn.yaml"
_HEAD = "# Lessons that are gone. Each address keeps a note that says so; an item taken out, none.\n"


def _address(text: str) -> str:
    path = former_path(text)
    if as_one_file(path).partition("/")[0] in OWN:
        raise InvalidValueError(f"`{path}` belongs to the site's own pages", "name where the lesson was")
    return path


class Withdrawn(Written):
    """A lesson that was withdrawn. lesson: its file from the site's folder, which others may link to.

    addresses: where it was, as `former_path` has them, that of its page first. put_away: by its author,
    whom no one asked to, so that a text that links to it is mistaken.
    """

    lesson: Text = Field(examples=["lessons/the-hub.md"])
    on: DateText = Field(examples=["2026-11-29"])
    addresses: tuple[Annotated[Text, AfterValidator(_address)], ...] = Field(examples=["[lessons/the-hub]"])

    put_away: YesNo = False

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


def notes_at(withdrawn: Iterable[Withdrawn], taken: Collection[str]) -> dict[str, bool]:
    """The files of the notes, each once → whether the lesson was put away, and not withdrawn as well.

    taken: files of lessons that are there again, or redirect.
    """
    there = {as_one_file(path) for path in taken}
    pages: dict[str, bool] = {}
    for one in withdrawn:
        for page in one.pages:
            pages[page] = pages.get(page, True) and one.put_away
    return {page: put_away for page, put_away in pages.items() if as_one_file(page) not in there}


def links_kept(withdrawn: Iterable[Withdrawn]) -> dict[str, str]:
    """By the file that a withdrawn lesson had, the note to which links to it lead."""
    return {one.lesson: one.pages[0] for one in withdrawn if one.pages and not one.put_away}


def with_withdrawn(
    text: str, lessons: Iterable[tuple[str, date, tuple[str, ...]]], *, put_away: bool = False
) -> str:
    """The file's text with an item for each lesson at its end: its file, the day, its addresses."""
    begun = text or _HEAD
    begun += "" if begun.endswith("\n") else "\n"
    how = {"put_away": True} if put_away else {}
    return begun + "".join(
        f"- {written({'lesson': path, 'on': on.isoformat(), 'addresses': list(addresses), **how})}\n"
        for path, on, addresses in lessons
    )


def without_withdrawn(text: str, items: Iterable[Withdrawn], gone: Collection[Withdrawn]) -> str:
    """The file's text without some of its items. items: all that were read from it."""
    every = list(items)
    lines = text.splitlines(keepends=True)
    starts = [one.location_of().line - 1 for one in every]
    ends = [*starts[1:], len(lines)]
    out = {
        line
        for one, start, end in zip(every, starts, ends, strict=True)
        if one in gone
        for line in range(start, end)
    }
    return "".join(line for number, line in enumerate(lines) if number not in out)
