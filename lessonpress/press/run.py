"""Presses a site: all steps made sure of, everything checked, the output built aside and swapped in."""

from __future__ import annotations

import time
from dataclasses import dataclass, field
from datetime import date
from pathlib import Path

from lessonpress.press.cache import Cache
from lessonpress.press.changes import before, write_changes, write_no_changes
from lessonpress.press.clearing import clear
from lessonpress.press.cluster import on_cluster
from lessonpress.press.compressing import check_brotli
from lessonpress.press.file_hashes import FileHashes
from lessonpress.press.filling import Puts, change, fill
from lessonpress.press.notes import WITHOUT_URL, Notes
from lessonpress.press.output import check_content, check_output_folder, only_press
from lessonpress.press.parallel import sharing_a_pool
from lessonpress.press.progress import Progress
from lessonpress.press.schedule import Schedule
from lessonpress.press.spare import Left, Spare
from lessonpress.press.steps.dockets import Dockets, Put
from lessonpress.press.steps.inputs import KINDS, Inputs, PressOptions
from lessonpress.press.steps.last import (
    Counts,
    Last,
    keep_last,
    last_of,
    standing,
    without_the_systems,
)
from lessonpress.press.steps.uses import all_numbers
from lessonpress.press.steps.why import Redone, redone_in
from lessonpress.press.steps.works import Works
from lessonpress.press.swap import built_aside, tidy_beside
from lessonpress.press.withdrawing.closing import close_withdrawals
from lessonpress.records import Problems


@dataclass(frozen=True)
class Summary:
    """What was pressed: counts, bytes of the whole folder, seconds it took. anew: whether anything was.

    cleared: bytes of the cache.
    """

    counts: Counts
    warnings: int
    seconds: float
    anew: bool
    cleared: int = 0

    def __str__(self) -> str:
        counts = self.counts
        took = f"{self.seconds:.1f} s" if self.anew else "nothing to do"
        refused = f" ({counts.refused} not measured)" if counts.refused else ""
        cleared = f", {_size(self.cleared)} of the cache cleared" if self.cleared else ""
        return (
            f"{_count(counts.pages, 'page')}, {_count(counts.figures, 'figure')}, "
            f"{_count(counts.measures, 'measure')}{refused}, {_count(self.warnings, 'warning')}, "
            f"{_size(counts.size)}, {took}{cleared}"
        )


@dataclass(frozen=True)
class Pressed:
    """summary is None where errors stopped the press, which touched nothing then.

    notes: what is said besides. redone: what was made again. inputs: kind and name of each that the site
    rests on.
    """

    problems: Problems
    summary: Summary | None = None
    notes: Notes = field(default_factory=Notes)
    redone: tuple[Redone, ...] = ()
    inputs: tuple[tuple[str, str], ...] = ()


def press(
    root: Path,
    out: Path,
    progress: Progress,
    *,
    discard: bool = False,
    own_themes: bool = False,
    drafts: bool = False,
    as_of: date | None = None,
    compressed: bool = False,
    workers: int | None = None,
    cluster: str | None = None,
) -> Pressed:
    """Presses the site at `root` into `out`, or reports every error found and leaves `out` as it was.

    discard: whether files that somebody put into a pressed `out` may be lost. own_themes: whether a theme of
    the site's own may be used. drafts: also those, and lessons whose day is to come, marked and listed
    nowhere. as_of: the day to press for, in place of the present one. compressed: with `.gz` and `.br`
    beside each file that is smaller so. workers: how many processes may work at a time, one a core unless
    given; they make the same. cluster: the address of a scheduler of dask.distributed, whose workers take
    their place. Raises UsageError where `out` cannot be had or holds something that was not pressed, a
    template of an own theme fails, a library is missing or there is no such cluster, OSError where the disk
    fails.
    """
    began = time.monotonic()
    check_output_folder(out, root)
    if compressed:
        check_brotli()
    root = root if cluster is None else root.absolute()  # a worker's folder is another
    cache, options = Cache(root / "build" / "cache"), PressOptions(drafts, own_themes, as_of, compressed)
    inputs = Inputs(root, options, FileHashes.kept(cache))
    last = last_of(cache, out, options.words)
    there = {} if last is None else standing(out)
    left = Left(there, last.hashes) if last is not None and there == last.standing else None
    if last is not None and last.still(inputs) and (left or without_the_systems(there) == last.standing):
        with only_press(out):
            tidy_beside(out)
            cache.tidy()
            inputs.file_hashes.keep(cache)
            write_no_changes(out)
        problems = Problems(list(last.problems))
        summary = Summary(last.counts, len(problems.by_cause()), time.monotonic() - began, anew=False)
        return Pressed(problems, summary, last.notes, inputs=_named(last))
    if left is None:
        check_content(out, discard=discard)
    with only_press(out), sharing_a_pool(workers) if cluster is None else on_cluster(cluster, root):
        cache.tidy()
        works = Works(root, cache, inputs, Dockets.kept(cache))
        try:
            return _press(works, out, Spare(out.resolve(), left), progress, began, discard=discard)
        finally:
            inputs.file_hashes.keep(cache)
            if works.dockets.changed:
                works.dockets.keep(cache)


def _press(
    works: Works, out: Path, spare: Spare, progress: Progress, began: float, *, discard: bool
) -> Pressed:
    site = Schedule(works, progress)
    progress.begin("reading the site")
    problems = site.read()
    if not site.there:
        return Pressed(problems, redone=redone_in(works))
    unusable = site.theme()
    if unusable is not None:
        problems.extend(unusable.collected)
        return Pressed(problems, redone=redone_in(works))
    site.measure(problems)
    if problems.errors:
        return Pressed(problems, redone=redone_in(works))
    site.print_pictures(problems)
    if not problems.errors:
        site.print_lessons(problems)
    site.look(problems)
    if problems.errors:
        return Pressed(problems, redone=redone_in(works))
    progress.begin("pressing pages")
    was = before(out, spare.left and spare.left.hashes)
    with built_aside(out, spare, discard=discard) as aside:
        puts = Puts(works, list(site.put_out()))
        if spare.left is not None and spare.changes is not None:
            stands, spare.changes = change(aside, puts, spare.left)
        else:
            stands = fill(aside, out, puts)
        # What these ask for is made before what is known is kept: a thousand tallies were kept apart.
        counts = _counts(site, puts.all, sum(size for size, _, _ in stands.values()))
        notes = _notes(site)
        works.dockets.forget_all_but(works.used)
        works.dockets.rest_on(works.used)
        works.inputs.file_hashes.keep(works.cache)
        works.dockets.keep(works.cache)
    write_changes(out, was, puts.hashes)
    last = Last(_inputs_of(works), stands, puts.hashes, tuple(problems.collected), counts, notes)
    keep_last(last, works.cache, out, works.inputs.options.words)
    if not works.inputs.options.drafts and works.inputs.options.as_of is None:
        close_withdrawals(works.cache, works.entries)
    cleared = (
        clear(works.cache, works.value(("site.yaml", "", "cache_limit")), works.entries)
        if works.redone
        else 0
    )
    summary = Summary(counts, len(problems.by_cause()), time.monotonic() - began, True, cleared)
    return Pressed(problems, summary, notes, redone_in(works), _named(last))


def _inputs_of(works: Works) -> tuple[tuple[str, str, str], ...]:
    """Kind and name of each input that the site rests on, with its hash."""
    uses, numbers = works.dockets.uses.numbered, all_numbers(one.made_of for one in works.used.values())
    used = sorted({key[:2] for key, _ in map(uses.__getitem__, numbers) if key[0] in KINDS})
    return tuple((kind, of, works.sure((kind, of, ""))) for kind, of in used)


def _named(last: Last) -> tuple[tuple[str, str], ...]:
    return tuple((kind, of) for kind, of, _ in last.inputs)


def _notes(site: Schedule) -> Notes:
    notes: Notes = site.works.value(("mentions", "", ""))
    return notes if site.works.value(("site.yaml", "", "url")) else notes._replace(left_out=WITHOUT_URL)


def _counts(site: Schedule, puts: list[Put], size: int) -> Counts:
    tallies = [site.works.value(("tally", name, "")) for name in site.lessons]
    return Counts(
        pages=sum(put.path.endswith(".html") for put in puts),
        figures=sum(one.figures for one in tallies),
        measures=sum(one.measures for one in tallies),
        refused=sum(one.refused for one in tallies),
        size=size,
    )


def _count(number: int, word: str) -> str:
    return f"{number} {word}{'' if number == 1 else 's'}"


def _size(count: int) -> str:
    """Bytes in decimal units, as disks and hosts count them."""
    return f"{count / 1e6:.1f} MB" if count >= 1e6 else f"{count / 1e3:.0f} kB"
