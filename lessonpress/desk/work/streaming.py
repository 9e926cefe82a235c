"""Work that a page watches: a line of JSON for each step; it ends when no one reads on."""

from __future__ import annotations

import json
from collections.abc import Callable, Iterator
from queue import SimpleQueue
from threading import Event, Thread
from typing import Any


class StoppedError(Exception):
    """No one reads the answer any more."""


class Watcher:
    """Who hears of the steps."""

    def __init__(self) -> None:
        self._lines: SimpleQueue[bytes | None] = SimpleQueue()
        self._stopped = Event()

    def hears(self, **content: Any) -> None:
        self._lines.put((json.dumps(content) + "\n").encode())

    def reads_on(self) -> None:
        """Raises StoppedError once no one does."""
        if self._stopped.is_set():
            raise StoppedError

    def lines(self, name: str, work: Callable[[Watcher], None]) -> Iterator[bytes]:
        Thread(target=self._run, args=(work,), name=name, daemon=True).start()
        try:
            while (line := self._lines.get()) is not None:
                yield line
        finally:
            self._stopped.set()

    def _run(self, work: Callable[[Watcher], None]) -> None:
        try:
            work(self)
        except StoppedError:
            pass
        finally:
            self._lines.put(None)


def watched(name: str, work: Callable[[Watcher], None]) -> Iterator[bytes]:
    """The lines of the answer. A reader who stops reading stops the work. name: of its thread."""
    return Watcher().lines(name, work)
