"""Runs jobs in parallel through the standard Executor interface, and stops them when interrupted."""

from __future__ import annotations

import gc
import importlib
import multiprocessing
import os
import signal
import threading
from collections.abc import Callable, Iterable, Iterator
from concurrent.futures import Executor, Future, ProcessPoolExecutor, as_completed
from contextlib import contextmanager
from contextvars import ContextVar
from dataclasses import dataclass
from multiprocessing.connection import wait
from typing import Any, ParamSpec, TypeVar

P = ParamSpec("P")
T = TypeVar("T")
Job = TypeVar("Job")


class Inline(Executor):
    """Does each job at once, in this process: what few or small jobs are best served by."""

    def submit(self, fn: Callable[P, T], /, *args: P.args, **kwargs: P.kwargs) -> Future[T]:
        future: Future[T] = Future()
        try:
            future.set_result(fn(*args, **kwargs))
        except Exception as error:
            future.set_exception(error)
        return future


def run_parallel(
    work: Callable[[Job], T], jobs: Iterable[Job], executor: Executor
) -> Iterator[tuple[Job, Future[T]]]:
    """Each job with its finished future, in the order they finish; all are begun now.

    The future is returned unopened, so that one job's failure does not hide the others'. When the caller
    stops early or is interrupted, jobs not begun are dropped and worker processes ended.
    """
    with _ended_where_stopped(executor):
        futures = {executor.submit(work, job): job for job in jobs}
    return _as_finished(futures, executor)


def _as_finished(futures: dict[Future[T], Job], executor: Executor) -> Iterator[tuple[Job, Future[T]]]:
    with _ended_where_stopped(executor):
        for future in as_completed(futures):
            yield futures[future], future


@contextmanager
def _ended_where_stopped(executor: Executor) -> Iterator[None]:
    try:
        yield
    except BaseException:
        executor.shutdown(wait=False, cancel_futures=True)
        if isinstance(executor, _Pool | _Lent):
            executor.end()
        raise


@dataclass
class _Shared:
    """The one pool that all jobs of a press share, begun with the first of them."""

    most: int
    pool: _Pool | None = None

    def lent(self) -> Executor:
        if self.pool is None:
            self.pool = _pool(self.most)
        return _Lent(self.pool)

    def begin(self, modules: tuple[str, ...]) -> None:
        for _ in range(self.most if self.most > 1 else 0):
            self.lent().submit(_load, modules)

    def close(self) -> None:
        if self.pool is not None:
            self.pool.shutdown(cancel_futures=True)


def _load(modules: tuple[str, ...]) -> None:
    for name in modules:
        importlib.import_module(name)


_SHARED: ContextVar[_Shared | None] = ContextVar("shared pool", default=None)


@contextmanager
def sharing_a_pool(workers: int | None) -> Iterator[None]:
    """Within the block all jobs go to one pool of no more worker processes than this; None for one a core.

    A worker imports arrays, videos and pictures once, whatever it is given to do.
    """
    shared = _Shared(workers or len(_cores()))
    before = _SHARED.set(shared)
    try:
        yield
    finally:
        _SHARED.reset(before)
        shared.close()


def begin_pool(modules: tuple[str, ...]) -> None:
    """Starts the workers of the shared pool, if there is one, so that they load modules while this process
    finds out what there is to do.
    """
    shared = _SHARED.get()
    if shared is not None and _ELSEWHERE.get() is None:
        shared.begin(modules)


def pool_begun() -> bool:
    """Whether workers of a shared pool are there, so that even little is done sooner by them."""
    shared = _SHARED.get()
    return shared is not None and shared.pool is not None


_ELSEWHERE: ContextVar[Callable[[], Executor] | None] = ContextVar("executor elsewhere", default=None)


@contextmanager
def spread_by(executor: Callable[[], Executor]) -> Iterator[None]:
    """Within the block jobs are given to executors that this makes, not to processes of this machine."""
    before = _ELSEWHERE.set(executor)
    try:
        yield
    finally:
        _ELSEWHERE.reset(before)


def executor_for(jobs: int, *, workers: int | None = None) -> Executor:
    """Inline for a single job or a single worker, else a pool of processes, no more than there are jobs.

    workers: for a pool of its own; that which is shared, or one a core, where none are given.
    """
    elsewhere = _ELSEWHERE.get()
    if elsewhere is not None and jobs > 1:
        return elsewhere()
    shared = _SHARED.get()
    if shared is not None and workers is None:
        return Inline() if min(jobs, shared.most) <= 1 else shared.lent()
    count = min(jobs, workers or len(_cores()))
    return Inline() if count <= 1 else _pool(count)


def _pool(most: int) -> _Pool:
    # Spawned, not forked: a fork would copy the progress display's thread and the decoder's, half alive.
    context: Any = multiprocessing.get_context("spawn")
    return _Pool(most, mp_context=context, initializer=_serve_one_parent, initargs=gc.get_threshold())


class _Pool(ProcessPoolExecutor):
    """A pool whose workers can be ended in the middle of a job, and no one else's with them."""

    def __init__(self, *given: Any, **named: Any) -> None:
        super().__init__(*given, **named)
        self._others = {child.pid for child in multiprocessing.active_children()}

    def end(self) -> None:
        for child in multiprocessing.active_children():
            if child.pid not in self._others:
                child.terminate()
                child.join()


class _Lent(Executor):
    """The shared pool, in the hands of one who leaves it running."""

    def __init__(self, pool: _Pool) -> None:
        self._pool = pool

    def submit(self, fn: Callable[P, T], /, *args: P.args, **kwargs: P.kwargs) -> Future[T]:
        return self._pool.submit(fn, *args, **kwargs)

    def shutdown(self, wait: bool = True, *, cancel_futures: bool = False) -> None:
        if cancel_futures:
            self._pool.shutdown(wait, cancel_futures=True)

    def end(self) -> None:
        self._pool.end()


def _cores() -> set[int]:
    if hasattr(os, "sched_getaffinity"):
        return os.sched_getaffinity(0)
    return set(range(os.cpu_count() or 1))


def _serve_one_parent(*collected_after: int) -> None:
    """Leaves interrupts to the parent, and goes when the parent was killed instead of waiting on.

    What a worker is given to do it does by itself. collected_after: when garbage is, as in the parent.
    """
    gc.set_threshold(*collected_after)
    _SHARED.set(_Shared(1))
    signal.signal(signal.SIGINT, signal.SIG_IGN)
    parent = multiprocessing.parent_process()
    if parent is not None:
        threading.Thread(target=_go_after, args=(parent.sentinel,), name="parent watch", daemon=True).start()


def _go_after(sentinel: int) -> None:
    wait([sentinel])
    os._exit(1)
