"""The proof: its pages, its state."""

from __future__ import annotations

from anyio import to_thread
from starlette.background import BackgroundTask
from starlette.requests import Request
from starlette.responses import HTMLResponse, Response

from lessonpress.desk.files.versions import bytes_of
from lessonpress.desk.http.context import Desk
from lessonpress.desk.http.endpoints.answering import file_sent
from lessonpress.desk.http.paths import lesson_file
from lessonpress.desk.http.responses import answer
from lessonpress.desk.preview.faults import fault_page
from lessonpress.manuscript import FILE_NAME


async def proof(desk: Desk, _request: Request) -> Response:
    """The state of the proof."""
    return answer(desk.proof.outcome.json())


async def press(desk: Desk, _request: Request) -> Response:
    """Presses the proof now."""
    desk.watch.press_soon()
    return answer(desk.proof.outcome.json(), 202)


async def proof_page(desk: Desk, request: Request) -> Response:
    """The page as it is; a lesson with faults shows them instead."""
    path = request.path_params["path"]
    parts = path.split("/")
    is_lesson = len(parts) == 3 and parts[0] == "lessons" and parts[2] in ("", "index.html")
    if is_lesson and FILE_NAME.fullmatch(parts[1]):
        desk.watch.look_at(parts[1])
        page = await to_thread.run_sync(lambda: _faults(desk, parts[1]))
        if page is not None:
            return HTMLResponse(page)
    sent = file_sent(desk.proof.folder, path)
    if is_lesson:
        sent.background = BackgroundTask(desk.watch.page_fetched)
    return sent


async def good_page(desk: Desk, request: Request) -> Response:
    """The same, each lesson as it was when it last had no errors."""
    return file_sent(desk.proof.folder, request.path_params["path"])


def _faults(desk: Desk, name: str) -> str | None:
    faults = desk.proof.faults_of(name)
    file = lesson_file(desk.root, name)
    if not faults or not file.is_file():
        return None
    good = f"lessons/{name}/index.html"
    text = (bytes_of(file) or b"").decode("utf-8", "replace")
    address = f"/good/{good}" if (desk.proof.folder / good).is_file() else None
    return fault_page(f"lessons/{name}.md", text, faults, address)
