"""What the site has, and what happens to it while a page is open."""

from __future__ import annotations

from starlette.requests import Request
from starlette.responses import Response, StreamingResponse

from lessonpress.desk.http.context import Desk
from lessonpress.desk.http.endpoints.answering import threaded
from lessonpress.desk.views.siteview import site_json


async def site(desk: Desk, request: Request) -> Response:
    """What the site has: clips, lessons, names, kinds, what may be chosen."""
    return await threaded(lambda: site_json(desk.live, request.state.may_change))


async def events(desk: Desk, _request: Request) -> Response:
    """Server-sent events, while the page is open."""
    return StreamingResponse(desk.events.listen(), media_type="text/event-stream")
