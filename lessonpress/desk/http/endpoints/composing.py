"""Figures that are being composed, and lessons that begin with a clip."""

from __future__ import annotations

from datetime import UTC, date, datetime
from typing import Any

from starlette.requests import Request
from starlette.responses import Response

from lessonpress.desk.files import lessonfile
from lessonpress.desk.http.context import Desk
from lessonpress.desk.http.endpoints.answering import threaded
from lessonpress.desk.http.paths import lesson_file
from lessonpress.desk.http.requests import DrawDraft, NewLesson, UsualLesson, WriteBlock
from lessonpress.desk.http.responses import RequestError, answer
from lessonpress.desk.work import composing, drafts, usual
from lessonpress.records import Problems, day_in


async def draft(desk: Desk, _request: Request, body: DrawDraft) -> Response:
    """Draws and measures a figure that is being composed."""
    return await threaded(lambda: drafts.draft(desk.live, body, desk.drafting.follow))


async def block(_desk: Desk, _request: Request, body: WriteBlock) -> Response:
    """Writes a figure's fields as its block."""
    return answer(composing.block(body))


async def new_lesson(desk: Desk, _request: Request, body: NewLesson) -> Response:
    """Writes a lesson from a clip."""

    def made() -> dict[str, Any]:
        file = lesson_file(desk.root, body.name)
        filmed = desk.live.filmed(desk.live.clip(body.clip), Problems())
        text = composing.new_lesson(body.title, body.clip, _day(desk, body.date), filmed, body.blocks)
        with desk.live.saving:
            return lessonfile.create(file, text).json()

    return await threaded(made, 201)


async def usual_lesson(desk: Desk, request: Request, body: UsualLesson) -> Response:
    """Lays the site's usual plates out for a clip: writes a lesson, suggests its marks."""

    def made() -> dict[str, Any]:
        file = lesson_file(desk.root, body.name)
        if file.exists():
            raise RequestError(409, f"there is a lesson `{file.stem}` already", "give another name")
        laid = usual.lay_out(desk.live, request.path_params["clip"], body.title, _day(desk, body.date))
        with desk.live.saving:
            return {**lessonfile.create(file, laid.text).json(), **usual.laid_out_json(laid)}

    return await threaded(made, 201)


def _day(desk: Desk, given: str | None) -> date:
    """The day that was given, else the present one in the site's time zone."""
    if given:
        return date.fromisoformat(given)
    return day_in(desk.live.site().timezone, datetime.now(UTC))
