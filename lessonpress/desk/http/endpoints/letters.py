"""Lessons as letters."""

from __future__ import annotations

from starlette.requests import Request
from starlette.responses import Response

from lessonpress.desk.http.context import Desk
from lessonpress.desk.http.endpoints.answering import file_sent, threaded
from lessonpress.desk.http.requests import WriteLetter
from lessonpress.desk.work import mailing
from lessonpress.press import MAIL_FOLDER


async def write_letter(desk: Desk, request: Request, body: WriteLetter) -> Response:
    """Writes a lesson as a letter into the site's `build/mail`."""
    name = desk.lesson(request).stem
    return await threaded(lambda: mailing.letter(desk.live, name, body))


async def letter(desk: Desk, request: Request) -> Response:
    """A file of a letter, to be looked at."""
    return file_sent(desk.root / MAIL_FOLDER, request.path_params["path"])
