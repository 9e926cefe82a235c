"""What the pages hear while they are open, as server-sent events."""

from __future__ import annotations

import asyncio
import json
from collections.abc import AsyncIterator
from dataclasses import dataclass, field
from typing import Any

ALIVE = 15.0  # s; a comment that keeps the line open, and finds out those that have gone
UNREAD = 100  # events that a page may be behind before it is let go; it asks again by itself


@dataclass
class Events:
    """To be used from one event loop; `tell_soon` from any thread."""

    loop: asyncio.AbstractEventLoop | None = None
    _listening: set[asyncio.Queue[bytes | None]] = field(default_factory=set)

    def tell_soon(self, name: str, data: dict[str, Any]) -> None:
        if self.loop is not None and not self.loop.is_closed():
            self.loop.call_soon_threadsafe(self.tell, name, data)

    def tell(self, name: str, data: dict[str, Any]) -> None:
        """To every page that listens."""
        line = f"event: {name}\ndata: {json.dumps(data)}\n\n".encode()
        for queue in tuple(self._listening):
            if queue.qsize() >= UNREAD:
                self._listening.discard(queue)
                queue.put_nowait(None)
            else:
                queue.put_nowait(line)

    def close(self) -> None:
        """Lets every page go, so that the server can end."""
        for queue in self._listening:
            queue.put_nowait(None)

    async def listen(self) -> AsyncIterator[bytes]:
        """What one page is sent, until it goes or the desk closes."""
        queue: asyncio.Queue[bytes | None] = asyncio.Queue()
        self._listening.add(queue)
        try:
            yield b"retry: 1000\n\n"
            while True:
                try:
                    line = await asyncio.wait_for(queue.get(), ALIVE)
                except TimeoutError:
                    line = b": here\n\n"
                if line is None:
                    return
                yield line
        finally:
            self._listening.discard(queue)
