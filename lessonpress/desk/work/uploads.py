"""A video dropped on the page becomes a clip; anything else is refused and leaves nothing behind."""

from __future__ import annotations

import secrets
from collections.abc import AsyncIterator
from pathlib import Path

from anyio import open_file, to_thread

from lessonpress.desk.http.paths import inside
from lessonpress.desk.http.responses import RequestError, usage_as_refusal
from lessonpress.desk.views.livesite import LiveSite
from lessonpress.intake import ingest_video
from lessonpress.manuscript import plain_name
from lessonpress.records import UsageError

LIMIT = 4_000_000_000  # bytes
SUFFIXES = (".mp4", ".mov", ".m4v", ".mkv", ".webm", ".avi", ".ts", ".mts", ".m2ts", ".mpg", ".mpeg", ".3gp")
HEAD = 400  # bytes that show what a file is

# what files of video begin with: offset and bytes, by their published formats (from memory): ISO base media
# and QuickTime (box type at 4), Matroska and WebM (EBML), AVI (RIFF), MPEG transport and program streams
BEGINNINGS: tuple[tuple[int, bytes], ...] = (
    (4, b"ftyp"),
    (4, b"moov"),
    (4, b"mdat"),
    (4, b"wide"),
    (4, b"free"),
    (0, b"\x1aE\xdf\xa3"),
    (8, b"AVI "),
    (0, b"\x00\x00\x01\xba"),
)
TRANSPORT_PACKET, TRANSPORT_SYNC = 188, 0x47


def looks_like_video(head: bytes) -> bool:
    """Whether a file that begins like this can be a video."""
    if any(head[at : at + len(magic)] == magic for at, magic in BEGINNINGS):
        return True
    for start in (0, 4):  # .m2ts has four bytes of time before each packet
        step = TRANSPORT_PACKET + start
        if len(head) > start + step and head[start] == head[start + step] == TRANSPORT_SYNC:
            return True
    return False


async def upload(
    live: LiveSite, file: str, name: str | None, kind: str, length: int | None, body: AsyncIterator[bytes]
) -> str:
    """Takes in a video and gives its clip's name. Raises RequestError, nothing left behind.

    kind: the Content-Type; length: the Content-Length, where one was sent.
    """
    suffix = Path(file).suffix.lower()
    if not kind.startswith("video/") and kind != "application/octet-stream":
        raise RequestError(415, f"`{kind[:60]}` is not a video", "send a video file")
    if suffix not in SUFFIXES:
        raise RequestError(
            415, f"`{suffix[:20]}` is not a video's ending", f"endings are {', '.join(SUFFIXES)}"
        )
    clip = name or plain_name(Path(file).stem)
    if not clip or clip != plain_name(clip):
        raise RequestError(422, f"`{clip[:60]}` makes no clip's name", "use a-z, 0-9 and -")
    if inside(live.root, "clips", clip).exists():
        raise RequestError(409, f"there is a clip `{clip}` already", "give another name")
    if length is not None and length > LIMIT:
        raise _too_large()
    folder = live.root / "build" / "uploads" / secrets.token_hex(8)
    target = folder / f"{clip}{suffix}"
    await to_thread.run_sync(lambda: folder.mkdir(parents=True))
    try:
        await _received(target, body)
        made = await to_thread.run_sync(lambda: ingest_video(target, live.root, clip, with_sheet=False))
    except UsageError as error:
        raise usage_as_refusal(error) from error
    finally:
        target.unlink(missing_ok=True)
        folder.rmdir()
    return made.name


async def _received(target: Path, body: AsyncIterator[bytes]) -> None:
    size, head = 0, b""
    async with await open_file(target, "wb") as out:
        async for piece in body:
            size += len(piece)
            if size > LIMIT:
                raise _too_large()
            if len(head) < HEAD:
                head += piece[: HEAD - len(head)]
                if len(head) == HEAD and not looks_like_video(head):
                    raise _no_video()
            await out.write(piece)
    if not looks_like_video(head):
        raise _no_video()


def _too_large() -> RequestError:
    return RequestError(413, f"the video is larger than {LIMIT // 1_000_000_000} GB", "cut it to the swing")


def _no_video() -> RequestError:
    return RequestError(415, "this file is not a video, whatever its name says", "send a video file")
