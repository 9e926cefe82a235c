"""The desk as one application: its routes behind the guard, and what runs while it is open."""

from __future__ import annotations

import asyncio
import contextlib
from collections.abc import AsyncIterator, Awaitable, Callable

from starlette.applications import Starlette
from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from lessonpress.desk.http.context import Desk
from lessonpress.desk.http.guard import Guard
from lessonpress.desk.http.responses import RequestError, refused, usage_as_refusal
from lessonpress.desk.http.routes import ROUTES, Endpoint
from lessonpress.disk import remove_unfinished
from lessonpress.records import UsageError


def application(desk: Desk, port: int, token: str, *, watching: bool = True) -> Guard:
    """The desk behind its guard. watching: whether files are watched and the proof pressed by itself."""

    @contextlib.asynccontextmanager
    async def lifespan(_: Starlette) -> AsyncIterator[None]:
        desk.events.loop = asyncio.get_running_loop()
        for folder in ("", "lessons", "clips"):
            for file in (desk.root / folder, *(desk.root / folder).glob("*/")):
                remove_unfinished(file)
        desk.proof.open()
        tasks = (
            [asyncio.create_task(one()) for one in (desk.watch.files, desk.watch.presses)] if watching else []
        )
        if watching:
            desk.watch.press_soon()
        yield
        desk.events.close()
        for task in tasks:
            task.cancel()
        desk.pictures.close()

    app = Starlette(
        routes=[Route(row.path, _bound(desk, row.endpoint), methods=[row.method]) for row in ROUTES],
        exception_handlers={404: _nothing_there, 405: _nothing_there, 500: _own_fault},
        lifespan=lifespan,
    )
    return Guard(app, port, token)


def _bound(desk: Desk, endpoint: Endpoint) -> Callable[[Request], Awaitable[Response]]:
    async def asked(request: Request) -> Response:
        desk.watch.asked()
        try:
            return await endpoint(desk, request)
        except RequestError as error:
            return refused(error)
        except UsageError as error:
            return refused(usage_as_refusal(error))
        except OSError as error:
            what = error.strerror or type(error).__name__
            return refused(
                RequestError(503, f"the machine could not do it: {what.lower()}", "nothing was changed")
            )

    return asked


async def _nothing_there(_request: Request, _error: Exception) -> Response:
    return refused(RequestError(404, "there is no such page here"))


async def _own_fault(_request: Request, error: Exception) -> Response:
    what = f"a fault of the program's own, {type(error).__name__}: {error}"
    return refused(RequestError(500, what, "the terminal has the details"))
