"""Pipes, folders, sockets and files without rights in place of texts."""

from __future__ import annotations

import os
import socket
from pathlib import Path
from random import Random

from tests.corpus.sound import TEXTS, VIDEO


def spoil(root: Path, random: Random) -> str:
    name = random.choice(
        (*TEXTS, VIDEO, "clips", "lessons", "pages/extra.md", "clips/extra", "lessons/extra.md")
    )
    path = root / name
    if path.is_dir():
        path.rename(root.parent / "taken-away")
    else:
        path.unlink(missing_ok=True)
    kind = random.choice(("pipe", "folder", "socket", "file without rights", "empty file", "nothing"))
    if kind == "pipe":
        os.mkfifo(path)
    elif kind == "folder":
        path.mkdir()
    elif kind == "socket":
        _socket(path)
    elif kind != "nothing":
        path.touch(0o000 if kind == "file without rights" else 0o644)
    return f"{name} is {kind}"


def _socket(path: Path) -> None:
    with socket.socket(socket.AF_UNIX) as one:
        handle = os.open(path.parent, os.O_RDONLY)
        try:
            one.bind(f"/proc/self/fd/{handle}/{path.name}")
        finally:
            os.close(handle)
