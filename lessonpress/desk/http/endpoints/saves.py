"""What files were before."""

from __future__ import annotations

from typing import Any

from starlette.requests import Request
from starlette.responses import Response

from lessonpress.desk.http.context import Desk
from lessonpress.desk.http.endpoints.answering import threaded
from lessonpress.desk.http.requests import RestoreFile
from lessonpress.desk.work import restoring


async def saves(desk: Desk, _request: Request) -> Response:
    """The saves of the site's files that are kept."""
    return await threaded(lambda: restoring.listed(desk.live))


async def difference(desk: Desk, request: Request) -> Response:
    """What bringing a file back to before a save would do, line by line."""
    number = request.path_params["number"]
    return await threaded(lambda: restoring.difference(desk.live, number))


async def restore(desk: Desk, _request: Request, body: RestoreFile) -> Response:
    """Brings a file back to what it was before a save."""

    def made() -> dict[str, Any]:
        with desk.live.saving:
            return restoring.brought_back(desk.live, body.path, body.number)

    return await threaded(made)
