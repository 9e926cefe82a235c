"""The desk's own pages and the theme that they are shown in."""

from __future__ import annotations

from importlib.resources import files
from pathlib import Path

from starlette.requests import Request
from starlette.responses import Response

from lessonpress.desk.http.context import Desk
from lessonpress.desk.http.endpoints.answering import file_sent
from lessonpress.records import theme_folder

PAGES = Path(str(files("lessonpress.desk"))) / "pages"


async def pages(_desk: Desk, request: Request) -> Response:
    """A file of the desk's own pages."""
    return file_sent(PAGES, request.path_params["path"])


async def theme(_desk: Desk, request: Request) -> Response:
    """The packaged theme's files: the desk's own pages take their colours and faces from it."""
    return file_sent(theme_folder(), request.path_params["path"])
