"""How an answer is made: beside the loop where it takes time, and how the proof hears of what was written."""

from __future__ import annotations

import mimetypes
from collections.abc import Callable, Iterable
from pathlib import Path
from typing import Any

from anyio import to_thread
from starlette.responses import FileResponse, Response

from lessonpress.desk.files.filesave import Codec, E, save
from lessonpress.desk.http.context import Desk
from lessonpress.desk.http.paths import served
from lessonpress.desk.http.requests import Edits
from lessonpress.desk.http.responses import RequestError, answer


async def threaded(make: Callable[[], dict[str, Any]], status: int = 200) -> Response:
    """An answer that takes time to make, made beside the loop."""
    return answer(await to_thread.run_sync(make), status)


async def written(desk: Desk, make: Callable[[], dict[str, Any]]) -> Response:
    """The same of what writes a file: the proof need not wait until the change is seen on disk."""
    made = await threaded(make)
    desk.watch.press_soon()
    return made


def saved(desk: Desk, codec: Codec[E], file: Path, edits: Iterable[E], body: Edits) -> dict[str, Any]:
    """Puts edits into a file, while nothing else is saved; what the file is by then."""
    with desk.live.saving:
        return save(codec, file, edits, body.version, anyway=body.anyway).json()


def file_sent(folder: Path, path: str) -> Response:
    """A file of a folder. Raises RequestError, 404, where there is none."""
    file = served(folder, path)
    if file is None:
        raise RequestError(404, "there is no such page here")
    return FileResponse(file, media_type=mimetypes.guess_type(file.name)[0] or "application/octet-stream")
