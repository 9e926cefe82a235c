"""A video that was not read before is read in a process of its own, with bounds on memory and time.

Decoders are large programs in C, and a file may be made to crash them, to fill the memory or never to end.
Then that process ends and the file is refused; press and desk go on. What was read once so, down to its last
picture, is the same file whenever it is decoded again: its fingerprint says so.
"""

from __future__ import annotations

import contextlib
import multiprocessing
import os
import signal
import sys
import threading
from collections.abc import Callable
from dataclasses import dataclass
from multiprocessing.connection import Connection, wait
from pathlib import Path
from typing import Any, TypeVar

from lessonpress.footage.video.failure import FootageError
from lessonpress.footage.video.index import ClipIndex
from lessonpress.footage.video.index import read_index as read_here
from lessonpress.footage.video.opening import EXPORT_AGAIN

T = TypeVar("T")
_MEMORY = (
    3_000_000_000  # bytes: sixteen pictures of the largest size that is worked on, as decoders hold them
)
_SECONDS = 120  # of the processor for any file; a phone's clip of 10 s takes some 5
_SECONDS_A_MB = 60  # and for each MB of it; a second of film in a MB is decoded in far less
_BY_BOUNDS = {int(signal.SIGXCPU), int(signal.SIGKILL)} if sys.platform != "win32" else set[int]()
_HERE = "lessonpress.footage.video.guarded"


@dataclass(frozen=True)
class Bounds:
    """memory: bytes more than at the start. seconds: of the processor."""

    memory: int
    seconds: int


def read_index(path: Path) -> ClipIndex:
    """The index of a video, read apart. Raises FootageError; also where reading it breaks its bounds."""
    size = path.stat().st_size if path.is_file() else 0
    bounds = Bounds(_MEMORY, _SECONDS + _SECONDS_A_MB * size // 1_000_000)
    return apart(read_here, path, bounds)


def apart(work: Callable[[Path], T], path: Path, bounds: Bounds) -> T:
    """What `work` makes of a video, in a process of its own. What it raises is raised here."""
    _may_have_children()
    context: Any = _context()
    ours, theirs = context.Pipe(duplex=False)
    child = context.Process(target=_serve, args=(theirs, work, path, bounds), daemon=False)
    child.start()
    theirs.close()
    try:
        good, made = ours.recv()
    except EOFError:
        child.join()
        raise FootageError(_ended(path, child.exitcode, bounds), EXPORT_AGAIN) from None
    finally:
        child.kill()
        child.join()
        ours.close()
    if good:
        result: T = made
        return result
    raise made


def _may_have_children() -> None:
    """A cluster's worker is a daemon, which may have no children as they could outlive it: ours do not."""
    here = multiprocessing.current_process()
    if here.daemon:
        here.daemon = False


def _context() -> Any:
    """Of processes begun by one that has loaded the decoders and nothing else; where none can be, anew."""
    if "forkserver" not in multiprocessing.get_all_start_methods():
        return multiprocessing.get_context("spawn")
    context = multiprocessing.get_context("forkserver")
    context.set_forkserver_preload([_HERE])
    return context


def _serve(answer: Connection, work: Callable[[Path], Any], path: Path, bounds: Bounds) -> None:
    signal.signal(signal.SIGINT, signal.SIG_IGN)  # the parent ends this
    _end_with_the_parent()
    with contextlib.suppress(ImportError, ValueError, OSError):  # a system without such bounds
        _bind(bounds)
    try:
        said = (True, work(path))
    except MemoryError:
        said = (False, FootageError(_too_large(path, bounds), EXPORT_AGAIN))
    except Exception as error:
        said = (False, error)
    answer.send(said)


def _bind(bounds: Bounds) -> None:
    """Bounds of this process: of what it may write into, beyond what it has, and of its time."""
    import resource

    pages = int(Path("/proc/self/statm").read_text().split()[5]) if Path("/proc/self/statm").exists() else 0
    memory = pages * os.sysconf("SC_PAGE_SIZE") + bounds.memory
    resource.setrlimit(resource.RLIMIT_DATA, (memory, memory))
    resource.setrlimit(resource.RLIMIT_CPU, (bounds.seconds, bounds.seconds + 5))
    resource.setrlimit(resource.RLIMIT_CORE, (0, 0))


def _end_with_the_parent() -> None:
    parent = multiprocessing.parent_process()
    if parent is not None:
        threading.Thread(target=_go_after, args=(parent.sentinel,), daemon=True).start()


def _go_after(sentinel: int) -> None:
    wait([sentinel])
    os._exit(1)


def _ended(path: Path, code: int | None, bounds: Bounds) -> str:
    """Why the process ended without an answer. code: that of its end, a signal's number below zero."""
    if code is not None and -code in _BY_BOUNDS:
        return f"{path.name} was not read to its end in {bounds.seconds} s, or it filled the memory"
    return f"{path.name} ends the decoder that reads it"


def _too_large(path: Path, bounds: Bounds) -> str:
    return f"{path.name} wants more than {bounds.memory / 1e9:.0f} GB of memory to be read"
