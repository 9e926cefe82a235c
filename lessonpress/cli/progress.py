"""What a press says while it works: a bar on a terminal, plain lines elsewhere, both on standard error."""

from __future__ import annotations

import sys
from collections.abc import Iterator
from contextlib import contextmanager

from rich.console import Console
from rich.progress import BarColumn, MofNCompleteColumn, TaskID, TextColumn, TimeElapsedColumn
from rich.progress import Progress as RichProgress

from lessonpress.press.progress import Progress, Silent


class _Lines:
    """One line for each stage."""

    def begin(self, stage: str, total: int | None = None) -> None:
        print(stage if total is None else f"{stage}: {total}", file=sys.stderr, flush=True)

    def step(self, count: int = 1) -> None:
        pass


class _Bar:
    """One bar for each stage."""

    def __init__(self, bars: RichProgress) -> None:
        self._bars = bars
        self._task: TaskID | None = None

    def begin(self, stage: str, total: int | None = None) -> None:
        self._finish()
        self._task = self._bars.add_task(stage, total=total)

    def step(self, count: int = 1) -> None:
        if self._task is not None:
            self._bars.advance(self._task, count)

    def _finish(self) -> None:
        if self._task is not None:
            self._bars.remove_task(self._task)


@contextmanager
def shown(*, lines: bool = True) -> Iterator[Progress]:
    """The progress to hand on; a bar is cleared away at the end, whatever the end is.

    lines: whether to say anything where there is no terminal; commands that print data say nothing.
    """
    console = Console(stderr=True)
    if not console.is_terminal:
        yield _Lines() if lines else Silent()
        return
    columns = (TextColumn("{task.description}"), BarColumn(), MofNCompleteColumn(), TimeElapsedColumn())
    with RichProgress(*columns, console=console, transient=True) as bars:
        yield _Bar(bars)
