"""Work spread over the machines of a `dask.distributed` cluster, in place of processes of this one.

Its workers must see the site at the same path, its cache among it, and must be the same program on the same
libraries: what they make is kept for all. That is asked of each before any work. A worker that is lost in the
middle costs time alone, since the cluster gives its jobs to another.
"""

from __future__ import annotations

import importlib
import secrets
from collections.abc import Callable, Iterator
from concurrent.futures import Executor, Future
from contextlib import contextmanager
from pathlib import Path
from typing import Any, NamedTuple, ParamSpec, TypeVar

from lessonpress.press.cache import Cache, CacheEntry
from lessonpress.press.parallel import spread_by
from lessonpress.records import UsageError

P = ParamSpec("P")
T = TypeVar("T")

_PATIENCE = 10  # s until a scheduler has answered


@contextmanager
def on_cluster(address: str, root: Path) -> Iterator[None]:
    """Within the block jobs go to the cluster. address: of its scheduler. root: the site's folder, absolute.

    Raises UsageError where there is none, where it has no workers, or where one of them is not fit.
    """
    client = _connected(address)
    try:
        _check_workers(client, address, root)
        with spread_by(lambda: _Spread(client)):
            yield
    finally:
        client.close()


def _connected(address: str) -> Any:
    try:
        distributed: Any = importlib.import_module("distributed")
    except ImportError:
        wrong = "`--cluster` needs dask.distributed, which is not installed"
        raise UsageError(f"{wrong}; install Lessonpress with its extra `cluster`") from None
    try:
        return distributed.Client(address, timeout=_PATIENCE, set_as_default=False)
    except (OSError, ValueError) as fault:
        wrong = f"no cluster answers at {address}"
        raise UsageError(f"{wrong}; give the address that its scheduler prints, tcp://HOST:PORT") from fault


class _Here(NamedTuple):
    """What a process makes products with, and whether it sees an entry of the site's cache."""

    program: str
    libraries: tuple[tuple[str, str], ...]
    sees: bool


def _here(root: Path, entry: CacheEntry) -> _Here:
    from lessonpress.press.file_hashes import FileHashes
    from lessonpress.press.steps import clips, prints, themes
    from lessonpress.press.steps.inputs import Inputs, PressOptions

    inputs = Inputs(root, PressOptions(), FileHashes())
    names = {"python", *clips.FOOTAGE, *clips.MEASURING, *prints.PICTURES, *themes.RENDERING}
    libraries = tuple((name, inputs.value("library", name)) for name in sorted(names))
    return _Here(inputs.value("program", ""), libraries, entry.kept() is not None)


def _check_workers(client: Any, address: str, root: Path) -> None:
    entry = Cache(root / "build" / "cache").entry("cluster", secrets.token_hex(8))
    entry.keep(b"")
    try:
        there = client.run(_here, root, entry)
    except ImportError as fault:
        raise UsageError(
            f"a worker at {address} cannot load Lessonpress ({fault}); install it there"
        ) from fault
    finally:
        entry.path.unlink(missing_ok=True)
    if not there:
        raise UsageError(f"the cluster at {address} has no workers; start some, or leave `--cluster` out")
    here = _here(root, entry)
    for worker, found in there.items():
        unfit = _unfit(found, here, root)
        if unfit:
            raise UsageError(f"the worker {worker} {unfit}")


def _unfit(found: _Here, here: _Here, root: Path) -> str:
    if not found.sees:
        return f"does not see {root} with its cache; give the site a folder that all machines share"
    if found.program != here.program:
        return "is another version of Lessonpress; install the same on all machines"
    other = [
        name for (name, its), (_, ours) in zip(found.libraries, here.libraries, strict=True) if its != ours
    ]
    return f"has another version of {', '.join(other)}; install the same on all machines" if other else ""


class _Spread(Executor):
    """The cluster's executor, whose jobs are done each time that they are asked for."""

    def __init__(self, client: Any) -> None:
        self._executor = client.get_executor(pure=False)

    def submit(self, fn: Callable[P, T], /, *args: P.args, **kwargs: P.kwargs) -> Future[T]:
        future: Future[T] = self._executor.submit(fn, *args, **kwargs)
        return future

    def shutdown(self, wait: bool = True, *, cancel_futures: bool = False) -> None:
        self._executor.shutdown(wait=wait)  # without waiting it cancels
