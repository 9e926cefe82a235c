"""Products made in worker processes, which return their dockets.

A process opens the same cache and finds there what was made before; what it makes it leaves there. With the
dockets this process knows it as if it had made it itself: it goes through them as through any others.
"""

from __future__ import annotations

import secrets
import threading
from collections.abc import Iterable, Iterator, Sequence
from concurrent.futures import Executor, Future
from dataclasses import dataclass
from pathlib import Path

from lessonpress.press.cache import Cache
from lessonpress.press.file_hashes import FileHashes
from lessonpress.press.parallel import Inline, begin_pool, executor_for, pool_begun, run_parallel
from lessonpress.press.steps.dockets import Docket, Dockets
from lessonpress.press.steps.inputs import Inputs, PressOptions
from lessonpress.press.steps.table import STEPS
from lessonpress.press.steps.uses import Key, Use
from lessonpress.press.steps.works import Works

WORTH_A_POOL = 12  # products that take long; fewer are made before a pool of processes has started


@dataclass(frozen=True)
class _Job:
    """Products of one site that are best made by one process, such as those of one clip.

    batch: of those that are made of the same inputs and earlier products; a worker may outlive many.
    """

    batch: str
    root: Path
    options: PressOptions
    keys: tuple[Key, ...]


Made = list[tuple[Key, Docket, list[Use], Key]]  # product, its docket, its uses, what it was made because of


def make_apart(works: Works, groups: Iterable[Sequence[Key]], costly: int | None = None) -> Iterator[int]:
    """Makes products of `works`, a group in one process, many groups in several; yields how many were made.

    Groups are begun in their order: by other processes at once, by this one as the iterator is gone through.
    costly: how many of the products take long to make, all unless given.
    """
    batch = secrets.token_hex(8)
    jobs = [_Job(batch, works.root, works.inputs.options, tuple(keys)) for keys in groups if keys]
    costly = sum(len(job.keys) for job in jobs) if costly is None else costly
    few = costly < WORTH_A_POOL and not pool_begun()
    executor = executor_for(1 if few else len(jobs))
    if isinstance(executor, Inline):
        return (one for job in jobs for one in _made_here(works, job))
    works.dockets.keep(works.cache)
    works.inputs.file_hashes.keep(works.cache)
    return _taken_over(works, run_parallel(_make, jobs, executor), executor)


def _taken_over(works: Works, done: Iterable[tuple[_Job, Future[Made]]], executor: Executor) -> Iterator[int]:
    with executor:
        for job, future in done:
            for key, docket, uses, because in future.result():
                works.take_over(key, docket, uses, because)
            yield len(job.keys)


def begin_apart() -> None:
    """Starts the processes that will make products, where it is known that there are many to make."""
    begin_pool((__name__, *sorted({step.module for step in STEPS.values()})))


def _made_here(works: Works, job: _Job) -> Iterator[int]:
    for key in job.keys:
        works.sure(key)
        yield 1


_open: dict[str, Works] = {}  # of a worker process: the batch that it works on
_one_at_a_time = threading.Lock()  # a worker of a cluster may have several threads


def _make(job: _Job) -> Made:
    with _one_at_a_time:
        return _made(_works_for(job), job)


def _made(works: Works, job: _Job) -> Made:
    before = set(works.redone)
    for one in job.keys:
        works.sure(one)
    dockets = {made: works.docket(made) for made in works.redone if made not in before}
    uses = {made: works.dockets.uses.in_order(docket.made_of) for made, docket in dockets.items()}
    return [(made, docket, uses[made], works.redone[made]) for made, docket in dockets.items()]


def _works_for(job: _Job) -> Works:
    if job.batch not in _open:
        _open.clear()
        cache = Cache(job.root / "build" / "cache")
        inputs = Inputs(job.root, job.options, FileHashes.kept(cache))
        _open[job.batch] = Works(job.root, cache, inputs, Dockets.kept(cache))
    return _open[job.batch]
