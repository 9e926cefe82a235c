"""Watches the site's files: the pages hear what changed, and the proof is pressed again."""

from __future__ import annotations

import asyncio
import contextlib
import logging
from pathlib import Path
from typing import Any

from anyio import to_thread
from watchfiles import Change, DefaultFilter, awatch

from lessonpress.desk.http.events import Events
from lessonpress.desk.preview.proof import Proof

_LOG = logging.getLogger(__name__)
SETTLED = 120  # ms in which further changes are taken together
QUIET = 0.6  # s since anyone asked for anything, after which lessons are pressed that no one looks at
PATIENT = 5.0  # s that these wait at most
POLL = 0.1  # s
FETCHED = 0.5  # s that a page may take to be fetched, once the pages heard of it


class _Written(DefaultFilter):
    """The files an author writes; not what is built, nor what a save leaves beside a file for a moment."""

    def __init__(self, root: Path) -> None:
        super().__init__()
        self._build = str(root / "build")

    def __call__(self, change: Change, path: str) -> bool:
        name = Path(path).name
        return not (path.startswith(self._build) or name.startswith(".")) and super().__call__(change, path)


def saved_json(root: Path, paths: set[str]) -> dict[str, Any]:
    """What is said of changed files: their paths from the site, the clips and lessons they belong to."""
    inside = sorted(
        Path(path).relative_to(root).as_posix() for path in paths if Path(path).is_relative_to(root)
    )
    parts = [path.split("/") for path in inside]
    return {
        "paths": inside,
        "clips": sorted({part[1] for part in parts if part[0] == "clips" and len(part) > 2}),
        "lessons": sorted(
            {part[1].removesuffix(".md") for part in parts if part[0] == "lessons" and len(part) == 2}
        ),
    }


class Watch:
    """One press at a time; what is saved while one runs has it run once more.

    What is pending after one is pressed when the author pauses, so that the desk stays quick meanwhile.
    """

    def __init__(self, root: Path, proof: Proof, events: Events) -> None:
        self._root, self._proof, self._events = root, proof, events
        self._due = asyncio.Event()
        self._fetched = asyncio.Event()  # a lesson's page, since one was last told to be there
        self._asked = 0.0  # when anyone last asked the desk for anything, in the loop's time

    def press_soon(self) -> None:
        self._due.set()

    def asked(self) -> None:
        """Someone is at work: what no one looks at waits a little."""
        self._asked = asyncio.get_running_loop().time()

    def look_at(self, lesson: str) -> None:
        """The lesson that is looked at is pressed before all others."""
        self._proof.front = lesson
        if lesson in self._proof.outcome.pending:
            self.press_soon()

    async def page_fetched(self) -> None:
        """A lesson's page is sent: what else the press has to do no longer keeps anyone waiting."""
        self._fetched.set()

    async def files(self) -> None:
        async for changes in awatch(self._root, watch_filter=_Written(self._root), step=50, debounce=SETTLED):
            self._events.tell("saved", saved_json(self._root, {path for _, path in changes}))
            self.press_soon()

    async def presses(self) -> None:
        while True:
            await self._due.wait()
            self._due.clear()
            self._events.tell("proof", {**self._proof.outcome.json(), "state": "pressing"})
            try:
                front = await to_thread.run_sync(self._proof.press_front)
                if front is not None:
                    self._fetched.clear()
                    self._events.tell("proof", front.json())
                    with contextlib.suppress(TimeoutError):
                        await asyncio.wait_for(self._fetched.wait(), FETCHED)
                await to_thread.run_sync(self._proof.press_some)
            except Exception as error:  # whatever it is, the desk stays open: the author is at work
                _LOG.exception("the proof could not be pressed")
                self._proof.failed(f"the proof could not be pressed: {error}")
            self._events.tell("proof", self._proof.outcome.json())
            if self._proof.outcome.pending:
                await self._quiet()
                self._due.set()

    async def _quiet(self) -> None:
        """Waits until no one asks for anything, or something is to be done at once; not for ever."""
        loop = asyncio.get_running_loop()
        began = loop.time()
        while not self._due.is_set() and loop.time() < min(self._asked + QUIET, began + PATIENT):
            await asyncio.sleep(POLL)
