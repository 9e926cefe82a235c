"""Which kinds of figures and overlays a lesson of the demo site uses, and what is on a handbook page."""

from __future__ import annotations

import re
from collections.abc import Iterator

from lessonpress.figures.plan.fields import FIGURES
from lessonpress.manuscript.lesson.lesson import Block, Lesson
from lessonpress.manuscript.site.site import Site
from lessonpress.manuscript.yaml.nodes import Mapping, Sequence
from lessonpress.overlays import KINDS as OVERLAYS

HANDBOOK = "handbook-"
KINDS = (*OVERLAYS, *FIGURES)


def handbook(site: Site) -> dict[str, Lesson]:
    """The pages of the handbook by what they are about."""
    pages = (lesson for lesson in site.lessons if lesson.name.startswith(HANDBOOK))
    return {lesson.name.removeprefix(HANDBOOK): lesson for lesson in pages}


def listed(site: Site) -> tuple[Lesson, ...]:
    """What readers find: neither drafts nor the handbook."""
    return tuple(lesson for lesson in site.lessons if lesson.listed and not lesson.draft)


def kinds_in(blocks: tuple[Block, ...], site: Site) -> Iterator[str]:
    """The figure kinds of the blocks, and the overlay kinds drawn on them, those of sets among them."""
    for block in blocks:
        if block.node is None:
            continue
        yield block.kind
        drawn = block.node.get("draw")
        for entry in drawn.items if isinstance(drawn, Sequence) else ():
            yield from _kinds_of(entry, site)


def _kinds_of(entry: object, site: Site) -> Iterator[str]:
    if isinstance(entry, Mapping):
        first = next(iter(entry.plain))
        if first == "use":
            for one in site.sets[entry.plain["use"]]:
                yield from _kinds_of(one, site)
        else:
            yield first


def first_column(markdown: str) -> set[str]:
    """What is code in the first column of the tables of a text."""
    return {name for row in re.findall(r"^\| (`[^|]*) \|", markdown, re.M) for name in _codes(row)}


def section(markdown: str, heading: str) -> str:
    """The text below a heading, up to the next."""
    found = re.search(rf"^## {re.escape(heading)}$\n(.*?)(?=^## |\Z)", markdown, re.M | re.S)
    return found[1] if found else ""


def _codes(row: str) -> list[str]:
    return re.findall(r"`([^`]+)`", row)
