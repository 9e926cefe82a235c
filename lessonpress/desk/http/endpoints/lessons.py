"""A lesson's text."""

from __future__ import annotations

from typing import Any

from starlette.requests import Request
from starlette.responses import Response

from lessonpress.desk.files import lessonfile
from lessonpress.desk.http.context import Desk
from lessonpress.desk.http.endpoints.answering import threaded, written
from lessonpress.desk.http.requests import PutFigure, ReadText, SaveLesson, WriteOn
from lessonpress.desk.http.responses import RequestError
from lessonpress.desk.work import drafts


async def lesson(desk: Desk, request: Request) -> Response:
    """A lesson's text, blocks and problems."""
    desk.watch.look_at(request.path_params["lesson"])
    return await threaded(lambda: lessonfile.read(desk.lesson(request)).json())


async def save_lesson(desk: Desk, request: Request, body: SaveLesson) -> Response:
    """Saves a lesson's text, merged with what others changed meanwhile."""

    def made() -> dict[str, Any]:
        with desk.live.saving:
            saved, merged = lessonfile.save(desk.lesson(request), body, anyway=body.anyway)
        return {**saved.json(), "merged": merged}

    return await written(desk, made)


async def offers(desk: Desk, request: Request, body: WriteOn) -> Response:
    """What the site has for the place of the cursor in a lesson's text."""
    name = desk.lesson(request).stem
    return await threaded(lambda: desk.drafting.offers_json(name, body.before, body.after))


async def slips(desk: Desk, request: Request, body: ReadText) -> Response:
    """What is wrong with a lesson's text as it is typed; nothing is saved."""
    name = desk.lesson(request).stem
    return await threaded(lambda: desk.drafting.slips(name, body.text))


async def put_figure(desk: Desk, request: Request, body: PutFigure) -> Response:
    """Puts a block before a line of the lesson."""

    def made() -> dict[str, Any]:
        with desk.live.saving:
            saved, line = lessonfile.put_block(desk.lesson(request), body.block, body.line)
        return {**saved.json(), "line": line}

    return await written(desk, made)


async def wanted(desk: Desk, request: Request) -> Response:
    """The marks that a lesson's figures ask for."""
    desk.watch.look_at(request.path_params["lesson"])

    def made() -> dict[str, Any]:
        written = lessonfile.read(desk.lesson(request)).lesson
        if written is None:
            raise RequestError(422, "the lesson's front matter has mistakes", "correct it first")
        return drafts.wanted(desk.live, written)

    return await threaded(made)
