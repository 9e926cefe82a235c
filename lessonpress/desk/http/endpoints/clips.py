"""A clip: its video, its pictures, what they show by themselves."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import chain, islice
from typing import Any

from anyio import to_thread
from starlette.requests import Request
from starlette.responses import Response, StreamingResponse

from lessonpress.desk.http.context import Desk
from lessonpress.desk.http.endpoints.answering import threaded
from lessonpress.desk.http.responses import answer, kept
from lessonpress.desk.views import motion
from lessonpress.desk.views.clipview import checked_frame, clip_json, doubts_json, roll_of
from lessonpress.desk.work import proposing
from lessonpress.desk.work.uploads import upload

WEBP = "image/webp"


async def clip(desk: Desk, request: Request) -> Response:
    """What a clip's video, card and survey say."""
    name = request.path_params["clip"]

    def made() -> dict[str, Any]:
        content = clip_json(desk.live, name)
        desk.pictures.thumbnails_ahead(roll_of(desk.live, desk.live.clip(name)))
        return content

    return await threaded(made)


async def doubts(desk: Desk, request: Request) -> Response:
    """What does not fit together about a clip."""
    return await threaded(lambda: doubts_json(desk.live, request.path_params["clip"]))


async def picture(desk: Desk, request: Request) -> Response:
    """A frame as it is, lossless."""

    def made() -> bytes:
        roll = roll_of(desk.live, desk.live.clip(request.path_params["clip"]))
        return desk.pictures.picture(roll, checked_frame(request.path_params["frame"]))

    return kept(await to_thread.run_sync(made), WEBP)


async def stretch(desk: Desk, request: Request) -> Response:
    """Frames one after another as they are decoded, each its number and its pixels."""

    def begun() -> Iterator[bytes]:
        roll = roll_of(desk.live, desk.live.clip(request.path_params["clip"]))
        first, last = (checked_frame(request.path_params[key]) for key in ("first", "last"))
        pictures = desk.pictures.stretch(roll, first, last)
        # what is wrong with the video is refused here, before pictures are promised
        return chain(list(islice(pictures, 1)), pictures)

    pictures = await to_thread.run_sync(begun)
    return StreamingResponse(pictures, media_type="application/octet-stream")


async def thumbnail(desk: Desk, request: Request) -> Response:
    """A frame made small."""

    def made() -> bytes:
        roll = roll_of(desk.live, desk.live.clip(request.path_params["clip"]))
        return desk.pictures.thumbnail(roll, checked_frame(request.path_params["frame"]))

    return kept(await to_thread.run_sync(made), WEBP)


async def clip_motion(desk: Desk, request: Request) -> Response:
    """How much each picture differs from the one before."""
    return await threaded(lambda: motion.motion_json(desk.live, request.path_params["clip"]))


async def proposed(desk: Desk, request: Request) -> Response:
    """The events that the film suggests, each with a ± of pictures."""
    return await threaded(lambda: proposing.events_json(desk.live, request.path_params["clip"]))


async def camera(desk: Desk, request: Request) -> Response:
    """How the camera moved."""
    return await threaded(lambda: motion.camera_json(desk.live, request.path_params["clip"]))


async def new_clip(desk: Desk, request: Request) -> Response:
    """Takes in a video, its bytes as the body: `?file=NAME.mp4`, and `&name=CLIP` for another name."""
    headers, query = request.headers, request.query_params
    sent = headers.get("content-length", "")
    name = await upload(
        desk.live,
        query.get("file", ""),
        query.get("name"),
        headers.get("content-type", "").partition(";")[0].strip().lower(),
        int(sent) if sent.isdecimal() else None,
        request.stream(),
    )
    return answer({"clip": name}, 201)
