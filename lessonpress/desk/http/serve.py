"""Runs the desk of a site on this machine's loopback until it is interrupted."""

from __future__ import annotations

import logging
import secrets
import socket
from collections.abc import Callable
from pathlib import Path

import uvicorn

from lessonpress.desk.http.app import application
from lessonpress.desk.http.context import Desk
from lessonpress.press import only_desk
from lessonpress.records import UsageError

LOOPBACK = "127.0.0.1"
LEAVE_TIME = 2  # s given to open pages when the desk closes


class _Server(uvicorn.Server):
    """Says when it listens, and lets the pages that wait for events go before it waits for them."""

    def __init__(self, config: uvicorn.Config, desk: Desk, say: Callable[[], None]) -> None:
        super().__init__(config)
        self._desk, self._say = desk, say

    async def startup(self, sockets: list[socket.socket] | None = None) -> None:
        await super().startup(sockets)
        if not self.should_exit:
            self._say()

    async def shutdown(self, sockets: list[socket.socket] | None = None) -> None:
        self._desk.events.close()
        # What lasts longer than LEAVE_TIME is cut off, and uvicorn would report each as a fault of the desk.
        logging.getLogger("uvicorn.error").setLevel(logging.CRITICAL)
        await super().shutdown(sockets)


def serve(root: Path, port: int, say: Callable[[str], None], *, own_themes: bool = False) -> None:
    """Serves the site at `root`. port: 0 for a free one. told: called with the opening address and token.
    own_themes: whether a theme of the site's own may be used.

    Raises UsageError where another desk holds the site, or another program the port.
    Raises KeyboardInterrupt once an interrupt has closed it.
    """
    with _listening(port) as listener:
        number = listener.getsockname()[1]
        address = f"http://{LOOPBACK}:{number}/"
        with only_desk(root.resolve(), address):
            token = secrets.token_urlsafe(32)
            desk = Desk.of(root, own_themes=own_themes)
            config = uvicorn.Config(
                application(desk, number, token),
                log_level="warning",
                access_log=False,
                server_header=False,
                timeout_graceful_shutdown=LEAVE_TIME,
                lifespan="on",
            )
            _Server(config, desk, lambda: say(f"{address}?token={token}")).run(sockets=[listener])


def _listening(port: int) -> socket.socket:
    listener = socket.socket(socket.AF_INET, socket.SOCK_STREAM)
    try:
        listener.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
        listener.bind((LOOPBACK, port))
        listener.listen(128)
    except OSError as error:
        listener.close()
        raise UsageError(
            f"port {port} cannot be used: {(error.strerror or 'taken').lower()}; give another"
        ) from error
    return listener
