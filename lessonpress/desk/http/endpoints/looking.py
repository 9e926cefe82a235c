"""The last look before publishing, and what it is answered."""

from __future__ import annotations

from typing import Any

from starlette.requests import Request
from starlette.responses import Response

from lessonpress.desk.files import answers
from lessonpress.desk.http.context import Desk
from lessonpress.desk.http.endpoints.answering import threaded
from lessonpress.desk.http.requests import AnswerFinding
from lessonpress.desk.work import lastlook


async def preflight(desk: Desk, _request: Request) -> Response:
    """The last look before publishing: what is found, the most severe first, and what is answered."""
    return await threaded(lambda: lastlook.looked(desk.live))


async def answer_finding(desk: Desk, _request: Request, body: AnswerFinding) -> Response:
    """Writes into the file of a finding why it is meant so, or takes that away."""

    def made() -> dict[str, Any]:
        with desk.live.saving:
            return {"path": answers.answer(desk.root, body)}

    return await threaded(made)
