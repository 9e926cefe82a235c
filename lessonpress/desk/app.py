"""The table of routes, and the desk as one application. What each route takes and gives: see `desk`."""

from __future__ import annotations

import asyncio
import contextlib
import mimetypes
from collections.abc import AsyncIterator, Awaitable, Callable, Iterator
from dataclasses import dataclass
from datetime import date
from importlib.resources import files
from pathlib import Path
from typing import Any

from anyio import to_thread
from starlette.applications import Starlette
from starlette.requests import Request
from starlette.responses import FileResponse, HTMLResponse, Response, StreamingResponse
from starlette.routing import Route

from lessonpress.desk import cardfile, composing, drafts, lessonfile, marksfile, motion, room, tracksfile
from lessonpress.desk.answers import (
    Body,
    RefusedError,
    answer,
    body_of,
    kept,
    list_in,
    refused,
    text_in,
    usage_as_refusal,
    whole_in,
)
from lessonpress.desk.carrying import carried, carrying_in
from lessonpress.desk.clipview import checked_frame, clip_json, doubts_json, marks_json, roll_of
from lessonpress.desk.events import Events
from lessonpress.desk.faults import fault_page
from lessonpress.desk.guard import Guard
from lessonpress.desk.paths import clip_folder, lesson_file, served
from lessonpress.desk.pictures import Pictures
from lessonpress.desk.proof import Proof
from lessonpress.desk.siteview import site_json
from lessonpress.desk.studio import Studio
from lessonpress.desk.uploads import upload
from lessonpress.desk.watching import Watch
from lessonpress.desk.whole import bytes_of
from lessonpress.disk.atomic import remove_unfinished
from lessonpress.manuscript.names import FILE_NAME
from lessonpress.records.fault import UsageError
from lessonpress.records.problem import Problems
from lessonpress.records.theme import theme_folder

PAGES = Path(str(files("lessonpress.desk"))) / "pages"
WEBP = "image/webp"

Endpoint = Callable[["Desk", Request], Awaitable[Response]]


@dataclass(frozen=True)
class Desk:
    """Everything that routes share."""

    studio: Studio
    pictures: Pictures
    proof: Proof
    events: Events
    watch: Watch

    @classmethod
    def of(cls, root: Path, *, own_themes: bool = False) -> Desk:
        """The desk of a site. root: its folder."""
        studio = Studio(root.resolve(), own_themes)
        proof, events = Proof(studio), Events()
        return cls(studio, Pictures(studio.cache), proof, events, Watch(studio.root, proof, events))

    @property
    def root(self) -> Path:
        return self.studio.root

    def folder(self, request: Request) -> Path:
        return clip_folder(self.root, request.path_params["clip"])

    def lesson(self, request: Request) -> Path:
        return lesson_file(self.root, request.path_params["lesson"])


def application(desk: Desk, port: int, token: str, *, watching: bool = True) -> Guard:
    """The desk behind its guard. watching: whether files are watched and the proof pressed by itself."""

    @contextlib.asynccontextmanager
    async def lifespan(_: Starlette) -> AsyncIterator[None]:
        desk.events.loop = asyncio.get_running_loop()
        for folder in ("", "lessons", "clips"):
            for place in (desk.root / folder, *(desk.root / folder).glob("*/")):
                remove_unfinished(place)
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
        routes=[Route(path, _bound(desk, endpoint), methods=[method]) for method, path, endpoint in ROUTES],
        exception_handlers={404: _nothing_there, 405: _nothing_there, 500: _own_fault},
        lifespan=lifespan,
    )
    return Guard(app, port, token)


def _bound(desk: Desk, endpoint: Endpoint) -> Callable[[Request], Awaitable[Response]]:
    async def asked(request: Request) -> Response:
        desk.watch.asked()
        try:
            return await endpoint(desk, request)
        except RefusedError as error:
            return refused(error)
        except UsageError as error:
            return refused(usage_as_refusal(error))
        except OSError as error:
            what = error.strerror or type(error).__name__
            return refused(
                RefusedError(503, f"the machine could not do it: {what.lower()}", "nothing was changed")
            )

    return asked


async def _nothing_there(_request: Request, _error: Exception) -> Response:
    return refused(RefusedError(404, "there is no such page here"))


async def _own_fault(_request: Request, error: Exception) -> Response:
    what = f"a fault of the program's own, {type(error).__name__}: {error}"
    return refused(RefusedError(500, what, "the terminal has the details"))


async def _threaded(make: Callable[[], dict[str, Any]], status: int = 200) -> Response:
    """An answer that takes time to make, made beside the loop."""
    return answer(await to_thread.run_sync(make), status)


# pages


async def pages(_desk: Desk, request: Request) -> Response:
    return _file(PAGES, request.path_params["path"])


async def theme(_desk: Desk, request: Request) -> Response:
    """The packaged theme's files: the desk's own pages take their colours and faces from it."""
    return _file(theme_folder(), request.path_params["path"])


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
    return _file(desk.proof.folder, path)


async def good_page(desk: Desk, request: Request) -> Response:
    return _file(desk.proof.folder, request.path_params["path"])


def _faults(desk: Desk, name: str) -> str | None:
    faults = desk.proof.faults_of(name)
    place = lesson_file(desk.root, name)
    if not faults or not place.is_file():
        return None
    good = f"lessons/{name}/index.html"
    text = (bytes_of(place) or b"").decode("utf-8", "replace")
    address = f"/good/{good}" if (desk.proof.folder / good).is_file() else None
    return fault_page(f"lessons/{name}.md", text, faults, address)


def _file(folder: Path, path: str) -> Response:
    place = served(folder, path)
    if place is None:
        raise RefusedError(404, "there is no such page here")
    return FileResponse(place, media_type=mimetypes.guess_type(place.name)[0] or "application/octet-stream")


# the site


async def site(desk: Desk, request: Request) -> Response:
    return await _threaded(lambda: site_json(desk.studio, request.state.may_change))


async def events(desk: Desk, _request: Request) -> Response:
    return StreamingResponse(desk.events.listen(), media_type="text/event-stream")


# clips


async def clip(desk: Desk, request: Request) -> Response:
    name = request.path_params["clip"]

    def made() -> dict[str, Any]:
        told = clip_json(desk.studio, name)
        desk.pictures.thumbnails_ahead(roll_of(desk.studio, desk.studio.clip(name)))
        return told

    return await _threaded(made)


async def doubts(desk: Desk, request: Request) -> Response:
    return await _threaded(lambda: doubts_json(desk.studio, request.path_params["clip"]))


async def picture(desk: Desk, request: Request) -> Response:
    def made() -> bytes:
        roll = roll_of(desk.studio, desk.studio.clip(request.path_params["clip"]))
        return desk.pictures.picture(roll, checked_frame(request.path_params["frame"]))

    return kept(await to_thread.run_sync(made), WEBP)


async def thumbnail(desk: Desk, request: Request) -> Response:
    def made() -> bytes:
        roll = roll_of(desk.studio, desk.studio.clip(request.path_params["clip"]))
        return desk.pictures.thumbnail(roll, checked_frame(request.path_params["frame"]))

    return kept(await to_thread.run_sync(made), WEBP)


async def clip_motion(desk: Desk, request: Request) -> Response:
    return await _threaded(lambda: motion.motion_json(desk.studio, request.path_params["clip"]))


async def camera(desk: Desk, request: Request) -> Response:
    return await _threaded(lambda: motion.camera_json(desk.studio, request.path_params["clip"]))


async def marks(desk: Desk, request: Request) -> Response:
    return await _threaded(lambda: marks_json(desk.studio, request.path_params["clip"]))


async def save_marks(desk: Desk, request: Request) -> Response:
    body = await body_of(request)

    def made() -> dict[str, Any]:
        place, edits = desk.folder(request) / marksfile.NAME_OF_FILE, marksfile.edits_in(body)
        _no_link(place)
        with desk.studio.saving:
            saved = marksfile.save(place, edits, _known(body), anyway=_anyway(body))
        return {
            "version": saved.version,
            "merged": saved.merged,
            "edits": [one.json() for one in saved.edits],
        }

    return await _threaded(made)


async def carry(desk: Desk, request: Request) -> Response:
    body = await body_of(request)
    asked = await to_thread.run_sync(lambda: carrying_in(desk.studio, request.path_params["clip"], body))
    lines: Iterator[bytes] = carried(asked)
    return StreamingResponse(lines, media_type="application/x-ndjson")


async def save_tracks(desk: Desk, request: Request) -> Response:
    body = await body_of(request)

    def made() -> dict[str, Any]:
        place, edits = desk.folder(request) / tracksfile.NAME_OF_FILE, tracksfile.edits_in(body)
        _no_link(place)
        with desk.studio.saving:
            version, merged, done = tracksfile.save(place, edits, _known(body), anyway=_anyway(body))
        return {"version": version, "merged": merged, "edits": [one.json() for one in done]}

    return await _threaded(made)


async def card(desk: Desk, request: Request) -> Response:
    return await _threaded(
        lambda: cardfile.read(_no_link(desk.folder(request) / cardfile.NAME_OF_FILE)).json()
    )


async def save_card(desk: Desk, request: Request) -> Response:
    body = await body_of(request)

    def made() -> dict[str, Any]:
        place, edits = _no_link(desk.folder(request) / cardfile.NAME_OF_FILE), cardfile.edits_in(body)
        with desk.studio.saving:
            card, merged, done = cardfile.save(place, edits, _known(body), anyway=_anyway(body))
        return {**card.json(), "merged": merged, "edits": [one.json() for one in done]}

    return await _threaded(made)


async def length(desk: Desk, request: Request) -> Response:
    body = await body_of(request)
    return await _threaded(lambda: room.length(desk.studio, request.path_params["clip"], body))


async def new_clip(desk: Desk, request: Request) -> Response:
    headers, query = request.headers, request.query_params
    sent = headers.get("content-length", "")
    name = await upload(
        desk.studio,
        query.get("file", ""),
        query.get("name"),
        headers.get("content-type", "").partition(";")[0].strip().lower(),
        int(sent) if sent.isdecimal() else None,
        request.stream(),
    )
    return answer({"clip": name}, 201)


# composing and lessons


async def draft(desk: Desk, request: Request) -> Response:
    body = await body_of(request)
    return await _threaded(lambda: drafts.draft(desk.studio, body))


async def block(_desk: Desk, request: Request) -> Response:
    return answer(composing.block(await body_of(request)))


async def lesson(desk: Desk, request: Request) -> Response:
    desk.watch.look_at(request.path_params["lesson"])
    return await _threaded(lambda: lessonfile.read(desk.lesson(request)).json())


async def save_lesson(desk: Desk, request: Request) -> Response:
    body = await body_of(request)
    was, to = text_in(body, "was"), text_in(body, "to")

    def made() -> dict[str, Any]:
        with desk.studio.saving:
            saved, merged = lessonfile.save(desk.lesson(request), was, to, anyway=_anyway(body))
        return {**saved.json(), "merged": merged}

    return await _threaded(made)


async def put_figure(desk: Desk, request: Request) -> Response:
    body = await body_of(request)
    text, line = text_in(body, "block"), whole_in(body, "line")

    def made() -> dict[str, Any]:
        place = desk.lesson(request)
        with desk.studio.saving:
            before = lessonfile.read(place).text
            after, at = lessonfile.with_block(before, text, line)
            saved, _ = lessonfile.save(place, before, after)
        return {**saved.json(), "line": at}

    return await _threaded(made)


async def wanted(desk: Desk, request: Request) -> Response:
    desk.watch.look_at(request.path_params["lesson"])

    def made() -> dict[str, Any]:
        found = lessonfile.read(desk.lesson(request)).lesson
        if found is None:
            raise RefusedError(422, "the lesson's front matter has mistakes", "correct it first")
        return drafts.wanted(desk.studio, found)

    return await _threaded(made)


async def new_lesson(desk: Desk, request: Request) -> Response:
    body = await body_of(request)
    name, title, clip_name = text_in(body, "name"), text_in(body, "title"), text_in(body, "clip")
    blocks = [str(one) for one in list_in(body, "blocks")] if body.get("blocks") is not None else None

    def made() -> dict[str, Any]:
        place = lesson_file(desk.root, name)
        filmed = desk.studio.filmed(desk.studio.clip(clip_name), Problems())
        text = composing.new_lesson(title, clip_name, _day(body), filmed, blocks)
        with desk.studio.saving:
            return lessonfile.create(place, text).json()

    return await _threaded(made, 201)


# the proof


async def proof(desk: Desk, _request: Request) -> Response:
    return answer(desk.proof.outcome.json())


async def press(desk: Desk, _request: Request) -> Response:
    desk.watch.press_soon()
    return answer(desk.proof.outcome.json(), 202)


def _day(body: Body) -> date:
    try:
        return date.fromisoformat(text_in(body, "date", date.today().isoformat()))
    except ValueError as error:
        raise RefusedError(400, "`date` is to be a day", "write it as 2026-11-23") from error


def _known(body: Body) -> str | None:
    return text_in(body, "version") if body.get("version") is not None else None


def _anyway(body: Body) -> bool:
    return body.get("anyway") is True


def _no_link(place: Path) -> Path:
    if place.is_symlink():
        raise RefusedError(
            403, f"{place.name} is a link, which may lead out of the site", "put the file itself there"
        )
    return place


ROUTES: tuple[tuple[str, str, Endpoint], ...] = (
    ("GET", "/api/site", site),
    ("GET", "/api/events", events),
    ("GET", "/api/clips/{clip}", clip),
    ("GET", "/api/clips/{clip}/doubts", doubts),
    ("GET", "/api/clips/{clip}/pictures/{frame}.webp", picture),
    ("GET", "/api/clips/{clip}/thumbnails/{frame}.webp", thumbnail),
    ("GET", "/api/clips/{clip}/motion", clip_motion),
    ("GET", "/api/clips/{clip}/camera", camera),
    ("GET", "/api/clips/{clip}/marks", marks),
    ("POST", "/api/clips/{clip}/marks", save_marks),
    ("POST", "/api/clips/{clip}/track", carry),
    ("POST", "/api/clips/{clip}/tracks", save_tracks),
    ("GET", "/api/clips/{clip}/card", card),
    ("POST", "/api/clips/{clip}/card", save_card),
    ("POST", "/api/clips/{clip}/length", length),
    ("POST", "/api/uploads", new_clip),
    ("POST", "/api/draft", draft),
    ("POST", "/api/block", block),
    ("POST", "/api/lessons", new_lesson),
    ("GET", "/api/lessons/{lesson}", lesson),
    ("PUT", "/api/lessons/{lesson}", save_lesson),
    ("POST", "/api/lessons/{lesson}/figures", put_figure),
    ("GET", "/api/lessons/{lesson}/wanted", wanted),
    ("GET", "/api/proof", proof),
    ("POST", "/api/proof", press),
    ("GET", "/proof/{path:path}", proof_page),
    ("GET", "/good/{path:path}", good_page),
    ("GET", "/theme/{path:path}", theme),
    ("GET", "/{path:path}", pages),
)
