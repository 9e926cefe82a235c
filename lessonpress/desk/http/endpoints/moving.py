"""Clips and lessons that get another name, are put away, and come back."""

from __future__ import annotations

from typing import Any

from starlette.requests import Request
from starlette.responses import Response

from lessonpress.desk.files import clipnames, putaway, renaming
from lessonpress.desk.http.context import Desk
from lessonpress.desk.http.endpoints.answering import threaded
from lessonpress.desk.http.paths import clip_folder, inside, lesson_file
from lessonpress.desk.http.requests import RenameClip, RenameLesson, TakeBack


async def rename_clip(desk: Desk, request: Request, body: RenameClip) -> Response:
    """Gives a clip another name, with every lesson and card that names it."""

    def made() -> dict[str, Any]:
        old, new = clip_folder(desk.root, request.path_params["clip"]), inside(desk.root, "clips", body.to)
        with desk.live.saving:
            return {"clip": new.name, "changed": clipnames.rename_clip(desk.live.site(), old, new)}

    return await threaded(made)


async def rename_lesson(desk: Desk, request: Request, body: RenameLesson) -> Response:
    """Gives a lesson another name, with every link that leads to it."""

    def made() -> dict[str, Any]:
        new = lesson_file(desk.root, body.to)
        with desk.live.saving:
            renamed, changed = renaming.rename(desk.live.site(), desk.lesson(request), new)
        return {**renamed.json(), "changed": changed}

    return await threaded(made)


async def put_clip_away(desk: Desk, request: Request) -> Response:
    """Moves a clip that nothing names out of the site, to `put-away`."""

    def made() -> dict[str, Any]:
        folder = clip_folder(desk.root, request.path_params["clip"])
        with desk.live.saving:
            return {"path": putaway.put_clip_away(desk.live.site(), folder)}

    return await threaded(made)


async def put_lesson_away(desk: Desk, request: Request) -> Response:
    """Moves a lesson that nothing leads to out of the site, to `put-away`."""

    def made() -> dict[str, Any]:
        with desk.live.saving:
            return {"path": putaway.put_lesson_away(desk.live.site(), desk.lesson(request))}

    return await threaded(made)


async def take_back(desk: Desk, _request: Request, body: TakeBack) -> Response:
    """Brings back what was put away."""

    def made() -> dict[str, Any]:
        with desk.live.saving:
            return {"path": putaway.take_back(desk.root, body.path)}

    return await threaded(made)
