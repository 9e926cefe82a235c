"""A host as plain as any that a site may be put on: files of a folder, and nothing of the program."""

from __future__ import annotations

import threading
from collections.abc import Iterator
from contextlib import contextmanager
from functools import partial
from http.server import SimpleHTTPRequestHandler, ThreadingHTTPServer
from pathlib import Path


class _Quiet(SimpleHTTPRequestHandler):
    def log_message(self, format: str, *args: object) -> None:
        pass


@contextmanager
def hosted(folder: Path) -> Iterator[str]:
    """Serves a folder on this machine; the address of its root, with a slash at its end."""
    with ThreadingHTTPServer(("127.0.0.1", 0), partial(_Quiet, directory=folder)) as server:
        threading.Thread(target=server.serve_forever, daemon=True).start()
        yield f"http://127.0.0.1:{server.server_port}/"
        server.shutdown()
