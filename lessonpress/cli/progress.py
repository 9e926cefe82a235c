"""Shows progress: a bar on a terminal, plain lines elsewhere, both on standard error."""

from __future__ import annotations

import sys
from collections.abc import Iterator
from contextlib import ExitStack, contextmanager
from typing import TYPE_CHECKING

from lessonpress.press import Progress, Silent

if TYPE_CHECKING:
    from rich.progress import Progress as RichProgress
    from rich.progress import TaskID


class _Lines:
    """One line for each stage."""

    def begin(self, stage: str, total: int | None = None) -> None:
        print(stage if total is None else f"{stage}: {total}", file=sys.stderr, flush=True)

    def step(self, count: int = 1) -> None:
        pass


class _Bar:
    """One bar for each stage. stack: what takes the bars away at the end.

    What draws them is imported when there is a first stage: a press with nothing to do has none.
    """

    def __init__(self, stack: ExitStack) -> None:
        self._stack = stack
        self._bars: RichProgress | None = None
        self._task: TaskID | None = None

    def begin(self, stage: str, total: int | None = None) -> None:
        if self._bars is None:
            self._bars = self._stack.enter_context(_bars())
        if self._task is not None:
            self._bars.remove_task(self._task)
        self._task = self._bars.add_task(stage, total=total)

    def step(self, count: int = 1) -> None:
        if self._bars is not None and self._task is not None:
            self._bars.advance(self._task, count)


def _bars() -> RichProgress:
    from rich.console import Console
    from rich.progress import BarColumn, MofNCompleteColumn, TextColumn, TimeElapsedColumn
    from rich.progress import Progress as RichProgress

    columns = (TextColumn("{task.description}"), BarColumn(), MofNCompleteColumn(), TimeElapsedColumn())
    return RichProgress(*columns, console=Console(stderr=True), transient=True)


@contextmanager
def shown(*, lines: bool = True) -> Iterator[Progress]:
    """The progress to pass on; a bar is cleared away at the end, whatever the end is.

    lines: whether to say anything where there is no terminal; commands that print data say nothing.
    """
    if not sys.stderr.isatty():
        yield _Lines() if lines else Silent()
        return
    with ExitStack() as stack:
        yield _Bar(stack)
