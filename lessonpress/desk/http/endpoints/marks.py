"""Marks: placed, carried over pictures, suggested."""

from __future__ import annotations

from collections.abc import Iterator

from anyio import to_thread
from starlette.requests import Request
from starlette.responses import Response, StreamingResponse

from lessonpress.desk.files import marksfile, tracksfile
from lessonpress.desk.files.marksfile import MarksCodec
from lessonpress.desk.files.tracksfile import TracksCodec
from lessonpress.desk.http.context import Desk
from lessonpress.desk.http.endpoints.answering import saved, threaded, written
from lessonpress.desk.http.requests import Carry, SaveMarks, SaveTracks, Suggest
from lessonpress.desk.views.clipview import marks_json
from lessonpress.desk.work.carrying import carried, carrying_of
from lessonpress.desk.work.suggesting import opened_for, suggest_everywhere
from lessonpress.desk.work.suggesting import suggest as suggested_on


async def marks(desk: Desk, request: Request) -> Response:
    """Where the marks are, placed by hand and carried."""
    return await threaded(lambda: marks_json(desk.live, request.path_params["clip"]))


async def save_marks(desk: Desk, request: Request, body: SaveMarks) -> Response:
    """Puts, moves and takes away placings."""
    file = desk.file_of_clip(request, marksfile.NAME_OF_FILE)
    return await written(desk, lambda: saved(desk, MarksCodec(), file, body.edits, body))


async def carry(desk: Desk, request: Request, body: Carry) -> Response:
    """Carries marks over frames, a line of the answer at a time; nothing is written."""
    asked = await to_thread.run_sync(lambda: carrying_of(desk.live, request.path_params["clip"], body))
    lines: Iterator[bytes] = carried(asked)
    return StreamingResponse(lines, media_type="application/x-ndjson")


async def save_tracks(desk: Desk, request: Request, body: SaveTracks) -> Response:
    """Puts carried rows in the place of a mark's: accepts, cuts back, undoes."""
    file = desk.file_of_clip(request, tracksfile.NAME_OF_FILE)
    return await written(desk, lambda: saved(desk, TracksCodec(), file, body.edits, body))


async def suggest(desk: Desk, request: Request, body: Suggest) -> Response:
    """Suggests marks on a picture, as questions beside the marks."""
    return await threaded(lambda: suggested_on(desk.live, request.path_params["clip"], body))


async def suggest_all(desk: Desk, request: Request) -> Response:
    """Suggests marks on every picture of a clip, a line of the answer at a time; what is found is kept."""
    opened = await to_thread.run_sync(lambda: opened_for(desk.live, request.path_params["clip"]))
    lines: Iterator[bytes] = suggest_everywhere(desk.live, opened)
    return StreamingResponse(lines, media_type="application/x-ndjson")
