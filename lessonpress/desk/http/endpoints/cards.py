"""A clip's card, and lengths of the room that go on it."""

from __future__ import annotations

from starlette.requests import Request
from starlette.responses import Response

from lessonpress.desk.files import cardfile
from lessonpress.desk.files.cardfile import CardCodec
from lessonpress.desk.http.context import Desk
from lessonpress.desk.http.endpoints.answering import saved, threaded, written
from lessonpress.desk.http.requests import Length, SaveCard
from lessonpress.desk.work import room


async def card(desk: Desk, request: Request) -> Response:
    """The card as it is on disk."""
    return await threaded(lambda: cardfile.read(desk.file_of_clip(request, cardfile.NAME_OF_FILE)).json())


async def save_card(desk: Desk, request: Request, body: SaveCard) -> Response:
    """Puts and takes away values of the card."""
    file = desk.file_of_clip(request, cardfile.NAME_OF_FILE)
    return await written(
        desk, lambda: {**saved(desk, CardCodec(), file, body.edits, body), **cardfile.read(file).json()}
    )


async def length(desk: Desk, request: Request, body: Length) -> Response:
    """A length between two points of a picture."""
    return await threaded(lambda: room.length(desk.live, request.path_params["clip"], body))
