"""Products made in worker processes, which return their dockets.

A process opens the same cache and finds there what was made before; what it makes it leaves there. With the
dockets this process knows it as if it had made it itself: it goes through them as through any others.
"""

from __future__ import annotations

import secrets
import threading
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from pathlib import Path

from lessonpress.press.cache import Cache
from lessonpress.press.file_hashes import FileHashes
from lessonpress.press.parallel import Inline, executor_for, run_parallel
from lessonpress.press.steps.dockets import Docket, Dockets, Key
from lessonpress.press.steps.inputs import Inputs, PressOptions
from lessonpress.press.steps.works import Works

WORTH_A_POOL = 12  # products; fewer are made before a pool of processes has started


@dataclass(frozen=True)
class _Job:
    """Products of one site that are best made by one process, such as those of one clip.

    press: which press asks; a worker of a cluster outlives one.
    """

    press: str
    root: Path
    options: PressOptions
    keys: tuple[Key, ...]


Made = list[tuple[Key, Docket, Key]]  # a product, its docket, what it was made again because of


def make_apart(works: Works, groups: Iterable[Sequence[Key]]) -> None:
    """Makes products of `works` in other processes, a group in one of them. Little is left to this one.

    Groups are begun in their order.
    """
    press = secrets.token_hex(8)
    jobs = [_Job(press, works.root, works.inputs.options, tuple(keys)) for keys in groups if keys]
    if sum(len(job.keys) for job in jobs) < WORTH_A_POOL:
        return
    with executor_for(len(jobs)) as executor:
        if isinstance(executor, Inline):
            return
        works.dockets.keep(works.cache)
        works.inputs.file_hashes.keep(works.cache)
        for _, future in run_parallel(_make, jobs, executor):
            for key, docket, because in future.result():
                works.take_over(key, docket, because)


_open: dict[str, Works] = {}  # of a worker process: one press
_one = threading.Lock()  # a worker of a cluster may do several jobs in threads of one process


def _make(job: _Job) -> Made:
    with _one:
        return _made(_works(job), job)


def _works(job: _Job) -> Works:
    if job.press not in _open:
        _open.clear()
        cache = Cache(job.root / "build" / "cache")
        inputs = Inputs(job.root, job.options, FileHashes.kept(cache))
        _open[job.press] = Works(job.root, cache, inputs, Dockets.kept(cache))
    return _open[job.press]


def _made(works: Works, job: _Job) -> Made:
    before = set(works.redone)
    for one in job.keys:
        works.sure(one)
    return [
        (made, works.docket(made), because) for made, because in works.redone.items() if made not in before
    ]
