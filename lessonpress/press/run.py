"""Presses a site: everything read and checked first, then built aside, then swapped in."""

from __future__ import annotations

import time
from collections import defaultdict
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import partial
from pathlib import Path
from typing import Any

from lessonpress.figures.plates import BoundSite, Panel
from lessonpress.outlets.diagrams import Diagram, Picture, diagrams
from lessonpress.outlets.site import outlets
from lessonpress.pages import PictureBook, Shot, dates, links, render_site
from lessonpress.pages.own_themes import theme_of
from lessonpress.pages.pictures import shot_of
from lessonpress.press.diagrams import drawn
from lessonpress.press.former import with_former
from lessonpress.press.loops import loops
from lessonpress.press.output import check_content, check_place, only_press
from lessonpress.press.pictures import Printing, pictures_of
from lessonpress.press.progress import Progress
from lessonpress.press.reading import Reading, read
from lessonpress.press.receipt import NAME, hash_of, receipt
from lessonpress.press.swap import built_aside
from lessonpress.records.problem import Problems


@dataclass(frozen=True)
class Summary:
    """What was pressed: counts, bytes of the whole folder, seconds it took."""

    pages: int
    figures: int
    measures: int
    refused: int
    warnings: int
    size: int
    seconds: float

    def __str__(self) -> str:
        refused = f" ({self.refused} not measured)" if self.refused else ""
        return (
            f"{_count(self.pages, 'page')}, {_count(self.figures, 'figure')}, "
            f"{_count(self.measures, 'measure')}{refused}, {_count(self.warnings, 'warning')}, "
            f"{_size(self.size)}, {self.seconds:.1f} s"
        )


@dataclass(frozen=True)
class Pressed:
    """summary is None where errors stopped the press, which touched nothing then. drafts: their pages."""

    problems: Problems
    summary: Summary | None = None
    drafts: tuple[str, ...] = ()


def press(
    root: Path,
    out: Path,
    progress: Progress,
    *,
    discard: bool = False,
    own_themes: bool = False,
    drafts: bool = False,
) -> Pressed:
    """Presses the site at `root` into `out`, or tells every error found and leaves `out` as it was.

    discard: whether files that somebody put into a pressed `out` may be lost. own_themes: whether a theme of
    the site's own may be used. drafts: also those, marked as drafts and listed nowhere. Raises UsageError
    where `out` cannot be had or holds something that was not pressed, or a template of an own theme fails,
    OSError where the disk fails.
    """
    began = time.monotonic()
    check_place(out, root)
    check_content(out, discard=discard)
    with only_press(out):
        reading = read(root, progress, partial(theme_of, own_themes=own_themes), drafts=drafts)
        bound = reading.bound
        if bound is None or reading.problems.errors:
            return Pressed(reading.problems)
        made = pictures_of(bound, reading.indexes, reading.cache, progress, reading.problems)
        if reading.problems.errors:
            return Pressed(reading.problems)
        with built_aside(out, discard=discard) as aside:
            hashes, size = _write(aside, bound, reading, made, progress)
        summary = _summary(bound, reading.problems, hashes, size, time.monotonic() - began)
        paths = tuple(links.lesson(one.lesson.name) for one in bound.lessons if one.lesson.draft)
        return Pressed(reading.problems, summary, paths)


def _write(
    aside: Path, bound: BoundSite, reading: Reading, made: tuple[Printing, ...], progress: Progress
) -> tuple[dict[str, str], int]:
    """Writes every file of the site and its receipt. Returns path → hash, and the bytes in all."""
    hashes: dict[str, str] = {}
    size = 0
    progress.begin("pressing pages")
    for path, content in with_former(bound, _files(bound, made, reading, progress)):
        if path in hashes:
            raise RuntimeError(f"two files want to be {path}")
        _put(aside, path, content)
        hashes[path] = hash_of(content)
        size += len(content)
    record = receipt(hashes)
    _put(aside, NAME, record)
    return hashes, size + len(record)


def _files(
    bound: BoundSite, made: tuple[Printing, ...], reading: Reading, progress: Progress
) -> Iterator[tuple[str, bytes]]:
    by_shot: dict[Shot, list[Printing]] = defaultdict(list)
    for printing in made:
        by_shot[printing.shot].append(printing)
    book = PictureBook({shot: [one.picture for one in sizes] for shot, sizes in by_shot.items()})
    theme = reading.theme
    assert theme is not None  # asked for
    words = theme.words(bound.site.language)
    yield from render_site(bound, book, theme)
    yield from outlets(bound)
    yield from drawn(_diagrams(bound, words, by_shot), reading.cache, progress)
    yield from loops(bound, reading.indexes, reading.cache, progress)
    for printing in made:
        yield printing.href, printing.entry.content()


def _diagrams(
    bound: BoundSite, words: Mapping[str, Any], by_shot: dict[Shot, list[Printing]]
) -> Iterator[Diagram]:
    """Those of all lessons, each with the widest printing of its picture. words: the theme's."""

    def widest(panel: Panel) -> Picture:
        return by_shot[shot_of(panel)][-1].entry.content

    for lesson in bound.lessons:
        plate, said = words["plate"]["word"], partial(dates.short, words=words)
        yield from diagrams(lesson, bound.site, plate, widest, said)


def _put(aside: Path, path: str, content: bytes) -> None:
    place = aside / path
    if not place.resolve().is_relative_to(aside.resolve()):
        raise RuntimeError(f"{path} would lie outside the site")
    place.parent.mkdir(parents=True, exist_ok=True)
    place.write_bytes(content)


def _summary(
    bound: BoundSite, problems: Problems, hashes: dict[str, str], size: int, seconds: float
) -> Summary:
    measures = [measure for lesson in bound.lessons for measure in lesson.measures.values()]
    return Summary(
        pages=sum(path.endswith(".html") for path in hashes),
        figures=sum(len(lesson.plates) for lesson in bound.lessons),
        measures=len(measures),
        refused=sum(measure.refused is not None for measure in measures),
        warnings=len(problems.by_cause()),
        size=size,
        seconds=seconds,
    )


def _count(number: int, word: str) -> str:
    return f"{number} {word}{'' if number == 1 else 's'}"


def _size(count: int) -> str:
    """Bytes in decimal units, as disks and hosts count them."""
    return f"{count / 1e6:.1f} MB" if count >= 1e6 else f"{count / 1e3:.0f} kB"
