"""The desk's routes: the table, and what each does. What each gives: see `desk`."""

from __future__ import annotations

import mimetypes
from collections.abc import Awaitable, Callable, Iterable, Iterator
from dataclasses import dataclass
from datetime import UTC, date, datetime
from importlib.resources import files
from itertools import chain, islice
from pathlib import Path
from typing import Any, TypeVar

from anyio import to_thread
from starlette.background import BackgroundTask
from starlette.requests import Request
from starlette.responses import FileResponse, HTMLResponse, Response, StreamingResponse

from lessonpress.desk.files import (
    answers,
    cardfile,
    clipnames,
    lessonfile,
    marksfile,
    putaway,
    renaming,
    tracksfile,
)
from lessonpress.desk.files.cardfile import CardCodec
from lessonpress.desk.files.filesave import Codec, E, save
from lessonpress.desk.files.marksfile import MarksCodec
from lessonpress.desk.files.tracksfile import TracksCodec
from lessonpress.desk.files.versions import bytes_of
from lessonpress.desk.http.context import Desk
from lessonpress.desk.http.paths import clip_folder, inside, lesson_file, served
from lessonpress.desk.http.requests import (
    AnswerFinding,
    Carry,
    DrawDraft,
    Edits,
    Length,
    NewLesson,
    PutFigure,
    ReadText,
    RenameClip,
    RenameLesson,
    RestoreFile,
    SaveCard,
    SaveLesson,
    SaveMarks,
    SaveTracks,
    Suggest,
    TakeBack,
    UsualLesson,
    WriteBlock,
    WriteLetter,
    WriteOn,
    read,
)
from lessonpress.desk.http.requests import Request as Sent
from lessonpress.desk.http.responses import RequestError, answer, body_of, kept
from lessonpress.desk.preview.faults import fault_page
from lessonpress.desk.views import motion
from lessonpress.desk.views.clipview import checked_frame, clip_json, doubts_json, marks_json, roll_of
from lessonpress.desk.views.siteview import site_json
from lessonpress.desk.work import composing, drafts, lastlook, mailing, proposing, restoring, room, usual
from lessonpress.desk.work.carrying import carried, carrying_of
from lessonpress.desk.work.suggesting import opened_for, suggest_everywhere
from lessonpress.desk.work.suggesting import suggest as suggested_on
from lessonpress.desk.work.uploads import upload
from lessonpress.manuscript import FILE_NAME
from lessonpress.press import MAIL_FOLDER
from lessonpress.records import Problems, day_in, theme_folder

PAGES = Path(str(files("lessonpress.desk"))) / "pages"
WEBP = "image/webp"

Endpoint = Callable[[Desk, Request], Awaitable[Response]]
R = TypeVar("R", bound=Sent)


async def _threaded(make: Callable[[], dict[str, Any]], status: int = 200) -> Response:
    """An answer that takes time to make, made beside the loop."""
    return answer(await to_thread.run_sync(make), status)


# pages


async def _written(desk: Desk, make: Callable[[], dict[str, Any]]) -> Response:
    """The same of what writes a file: the proof need not wait until the change is seen on disk."""
    made = await _threaded(make)
    desk.watch.press_soon()
    return made


async def pages(_desk: Desk, request: Request) -> Response:
    """A file of the desk's own pages."""
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
    sent = _file(desk.proof.folder, path)
    if is_lesson:
        sent.background = BackgroundTask(desk.watch.page_fetched)
    return sent


async def good_page(desk: Desk, request: Request) -> Response:
    """The same, each lesson as it was when it last had no errors."""
    return _file(desk.proof.folder, request.path_params["path"])


def _faults(desk: Desk, name: str) -> str | None:
    faults = desk.proof.faults_of(name)
    file = lesson_file(desk.root, name)
    if not faults or not file.is_file():
        return None
    good = f"lessons/{name}/index.html"
    text = (bytes_of(file) or b"").decode("utf-8", "replace")
    address = f"/good/{good}" if (desk.proof.folder / good).is_file() else None
    return fault_page(f"lessons/{name}.md", text, faults, address)


def _file(folder: Path, path: str) -> Response:
    file = served(folder, path)
    if file is None:
        raise RequestError(404, "there is no such page here")
    return FileResponse(file, media_type=mimetypes.guess_type(file.name)[0] or "application/octet-stream")


# the site


async def site(desk: Desk, request: Request) -> Response:
    """What the site has: clips, lessons, names, kinds, what may be chosen."""
    return await _threaded(lambda: site_json(desk.live, request.state.may_change))


async def events(desk: Desk, _request: Request) -> Response:
    """Server-sent events, while the page is open."""
    return StreamingResponse(desk.events.listen(), media_type="text/event-stream")


# clips


async def clip(desk: Desk, request: Request) -> Response:
    """What a clip's video, card and survey say."""
    name = request.path_params["clip"]

    def made() -> dict[str, Any]:
        content = clip_json(desk.live, name)
        desk.pictures.thumbnails_ahead(roll_of(desk.live, desk.live.clip(name)))
        return content

    return await _threaded(made)


async def doubts(desk: Desk, request: Request) -> Response:
    """What does not fit together about a clip."""
    return await _threaded(lambda: doubts_json(desk.live, request.path_params["clip"]))


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
    return await _threaded(lambda: motion.motion_json(desk.live, request.path_params["clip"]))


async def proposed(desk: Desk, request: Request) -> Response:
    """The events that the film suggests, each with a ± of pictures."""
    return await _threaded(lambda: proposing.events_json(desk.live, request.path_params["clip"]))


async def camera(desk: Desk, request: Request) -> Response:
    """How the camera moved."""
    return await _threaded(lambda: motion.camera_json(desk.live, request.path_params["clip"]))


async def marks(desk: Desk, request: Request) -> Response:
    """Where the marks are, placed by hand and carried."""
    return await _threaded(lambda: marks_json(desk.live, request.path_params["clip"]))


async def save_marks(desk: Desk, request: Request, body: SaveMarks) -> Response:
    """Puts, moves and takes away placings."""
    file = desk.file_of_clip(request, marksfile.NAME_OF_FILE)
    return await _written(desk, lambda: _saved(desk, MarksCodec(), file, body.edits, body))


async def carry(desk: Desk, request: Request, body: Carry) -> Response:
    """Carries marks over frames, a line of the answer at a time; nothing is written."""
    asked = await to_thread.run_sync(lambda: carrying_of(desk.live, request.path_params["clip"], body))
    lines: Iterator[bytes] = carried(asked)
    return StreamingResponse(lines, media_type="application/x-ndjson")


async def save_tracks(desk: Desk, request: Request, body: SaveTracks) -> Response:
    """Puts carried rows in the place of a mark's: accepts, cuts back, undoes."""
    file = desk.file_of_clip(request, tracksfile.NAME_OF_FILE)
    return await _written(desk, lambda: _saved(desk, TracksCodec(), file, body.edits, body))


async def suggest(desk: Desk, request: Request, body: Suggest) -> Response:
    """Suggests marks on a picture, as questions beside the marks."""
    return await _threaded(lambda: suggested_on(desk.live, request.path_params["clip"], body))


async def suggest_all(desk: Desk, request: Request) -> Response:
    """Suggests marks on every picture of a clip, a line of the answer at a time; what is found is kept."""
    opened = await to_thread.run_sync(lambda: opened_for(desk.live, request.path_params["clip"]))
    lines: Iterator[bytes] = suggest_everywhere(desk.live, opened)
    return StreamingResponse(lines, media_type="application/x-ndjson")


async def card(desk: Desk, request: Request) -> Response:
    """The card as it is on disk."""
    return await _threaded(lambda: cardfile.read(desk.file_of_clip(request, cardfile.NAME_OF_FILE)).json())


async def save_card(desk: Desk, request: Request, body: SaveCard) -> Response:
    """Puts and takes away values of the card."""
    file = desk.file_of_clip(request, cardfile.NAME_OF_FILE)
    return await _written(
        desk, lambda: {**_saved(desk, CardCodec(), file, body.edits, body), **cardfile.read(file).json()}
    )


def _saved(desk: Desk, codec: Codec[E], file: Path, edits: Iterable[E], body: Edits) -> dict[str, Any]:
    with desk.live.saving:
        return save(codec, file, edits, body.version, anyway=body.anyway).json()


async def length(desk: Desk, request: Request, body: Length) -> Response:
    """A length between two points of a picture."""
    return await _threaded(lambda: room.length(desk.live, request.path_params["clip"], body))


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


async def rename_clip(desk: Desk, request: Request, body: RenameClip) -> Response:
    """Gives a clip another name, with every lesson and card that names it."""

    def made() -> dict[str, Any]:
        old, new = clip_folder(desk.root, request.path_params["clip"]), inside(desk.root, "clips", body.to)
        with desk.live.saving:
            return {"clip": new.name, "changed": clipnames.rename_clip(desk.live.site(), old, new)}

    return await _threaded(made)


async def put_clip_away(desk: Desk, request: Request) -> Response:
    """Moves a clip that nothing names out of the site, to `put-away`."""

    def made() -> dict[str, Any]:
        folder = clip_folder(desk.root, request.path_params["clip"])
        with desk.live.saving:
            return {"path": putaway.put_clip_away(desk.live.site(), folder)}

    return await _threaded(made)


async def put_lesson_away(desk: Desk, request: Request) -> Response:
    """Moves a lesson that nothing leads to out of the site, to `put-away`."""

    def made() -> dict[str, Any]:
        with desk.live.saving:
            return {"path": putaway.put_lesson_away(desk.live.site(), desk.lesson(request))}

    return await _threaded(made)


async def take_back(desk: Desk, _request: Request, body: TakeBack) -> Response:
    """Brings back what was put away."""

    def made() -> dict[str, Any]:
        with desk.live.saving:
            return {"path": putaway.take_back(desk.root, body.path)}

    return await _threaded(made)


# composing and lessons


async def draft(desk: Desk, _request: Request, body: DrawDraft) -> Response:
    """Draws and measures a figure that is being composed."""
    return await _threaded(lambda: drafts.draft(desk.live, body, desk.drafting.follow))


async def block(_desk: Desk, _request: Request, body: WriteBlock) -> Response:
    """Writes a figure's fields as its block."""
    return answer(composing.block(body))


async def lesson(desk: Desk, request: Request) -> Response:
    """A lesson's text, blocks and problems."""
    desk.watch.look_at(request.path_params["lesson"])
    return await _threaded(lambda: lessonfile.read(desk.lesson(request)).json())


async def save_lesson(desk: Desk, request: Request, body: SaveLesson) -> Response:
    """Saves a lesson's text, merged with what others changed meanwhile."""

    def made() -> dict[str, Any]:
        with desk.live.saving:
            saved, merged = lessonfile.save(desk.lesson(request), body, anyway=body.anyway)
        return {**saved.json(), "merged": merged}

    return await _written(desk, made)


async def offers(desk: Desk, request: Request, body: WriteOn) -> Response:
    """What the site has for the place of the cursor in a lesson's text."""
    name = desk.lesson(request).stem
    return await _threaded(lambda: desk.drafting.offers_json(name, body.before, body.after))


async def slips(desk: Desk, request: Request, body: ReadText) -> Response:
    """What is wrong with a lesson's text as it is typed; nothing is saved."""
    name = desk.lesson(request).stem
    return await _threaded(lambda: desk.drafting.slips(name, body.text))


async def rename_lesson(desk: Desk, request: Request, body: RenameLesson) -> Response:
    """Gives a lesson another name, with every link that leads to it."""

    def made() -> dict[str, Any]:
        new = lesson_file(desk.root, body.to)
        with desk.live.saving:
            renamed, changed = renaming.rename(desk.live.site(), desk.lesson(request), new)
        return {**renamed.json(), "changed": changed}

    return await _threaded(made)


async def put_figure(desk: Desk, request: Request, body: PutFigure) -> Response:
    """Puts a block before a line of the lesson."""

    def made() -> dict[str, Any]:
        with desk.live.saving:
            saved, line = lessonfile.put_block(desk.lesson(request), body.block, body.line)
        return {**saved.json(), "line": line}

    return await _written(desk, made)


async def wanted(desk: Desk, request: Request) -> Response:
    """The marks that a lesson's figures ask for."""
    desk.watch.look_at(request.path_params["lesson"])

    def made() -> dict[str, Any]:
        written = lessonfile.read(desk.lesson(request)).lesson
        if written is None:
            raise RequestError(422, "the lesson's front matter has mistakes", "correct it first")
        return drafts.wanted(desk.live, written)

    return await _threaded(made)


async def new_lesson(desk: Desk, _request: Request, body: NewLesson) -> Response:
    """Writes a lesson from a clip."""

    def made() -> dict[str, Any]:
        file = lesson_file(desk.root, body.name)
        filmed = desk.live.filmed(desk.live.clip(body.clip), Problems())
        text = composing.new_lesson(body.title, body.clip, _day(desk, body.date), filmed, body.blocks)
        with desk.live.saving:
            return lessonfile.create(file, text).json()

    return await _threaded(made, 201)


async def usual_lesson(desk: Desk, request: Request, body: UsualLesson) -> Response:
    """Lays the site's usual plates out for a clip: writes a lesson, suggests its marks."""

    def made() -> dict[str, Any]:
        file = lesson_file(desk.root, body.name)
        if file.exists():
            raise RequestError(409, f"there is a lesson `{file.stem}` already", "give another name")
        laid = usual.lay_out(desk.live, request.path_params["clip"], body.title, _day(desk, body.date))
        with desk.live.saving:
            return {**lessonfile.create(file, laid.text).json(), **usual.laid_out_json(laid)}

    return await _threaded(made, 201)


def _day(desk: Desk, given: str | None) -> date:
    """The day that was given, else the present one in the site's time zone."""
    if given:
        return date.fromisoformat(given)
    return day_in(desk.live.site().timezone, datetime.now(UTC))


# letters


async def write_letter(desk: Desk, request: Request, body: WriteLetter) -> Response:
    """Writes a lesson as a letter into the site's `build/mail`."""
    name = desk.lesson(request).stem
    return await _threaded(lambda: mailing.letter(desk.live, name, body))


async def letter(desk: Desk, request: Request) -> Response:
    """A file of a letter, to be looked at."""
    return _file(desk.root / MAIL_FOLDER, request.path_params["path"])


# the last look, and what files were before


async def preflight(desk: Desk, _request: Request) -> Response:
    """The last look before publishing: what is found, the most severe first, and what is answered."""
    return await _threaded(lambda: lastlook.looked(desk.live))


async def answer_finding(desk: Desk, _request: Request, body: AnswerFinding) -> Response:
    """Writes into the file of a finding why it is meant so, or takes that away."""

    def made() -> dict[str, Any]:
        with desk.live.saving:
            return {"path": answers.answer(desk.root, body)}

    return await _threaded(made)


async def saves(desk: Desk, _request: Request) -> Response:
    """The saves of the site's files that are kept."""
    return await _threaded(lambda: restoring.listed(desk.live))


async def difference(desk: Desk, request: Request) -> Response:
    """What bringing a file back to before a save would do, line by line."""
    number = request.path_params["number"]
    return await _threaded(lambda: restoring.difference(desk.live, number))


async def restore(desk: Desk, _request: Request, body: RestoreFile) -> Response:
    """Brings a file back to what it was before a save."""

    def made() -> dict[str, Any]:
        with desk.live.saving:
            return restoring.brought_back(desk.live, body.path, body.number)

    return await _threaded(made)


# the proof


async def proof(desk: Desk, _request: Request) -> Response:
    """The state of the proof."""
    return answer(desk.proof.outcome.json())


async def press(desk: Desk, _request: Request) -> Response:
    """Presses the proof now."""
    desk.watch.press_soon()
    return answer(desk.proof.outcome.json(), 202)


@dataclass(frozen=True)
class Row:
    """A route. takes: the model of its JSON body, None where it takes none."""

    method: str
    path: str
    endpoint: Endpoint
    takes: type[Sent] | None = None

    @property
    def does(self) -> str:
        """The first sentence of what the endpoint says of itself."""
        return (self.endpoint.__doc__ or "").partition("\n")[0]


def _taking(
    method: str, path: str, takes: type[R], endpoint: Callable[[Desk, Request, R], Awaitable[Response]]
) -> Row:
    async def asked(desk: Desk, request: Request) -> Response:
        return await endpoint(desk, request, read(takes, await body_of(request)))

    asked.__doc__ = endpoint.__doc__
    return Row(method, path, asked, takes)


ROUTES: tuple[Row, ...] = (
    Row("GET", "/api/site", site),
    Row("GET", "/api/events", events),
    Row("GET", "/api/clips/{clip}", clip),
    Row("GET", "/api/clips/{clip}/doubts", doubts),
    Row("GET", "/api/clips/{clip}/pictures/{frame}.webp", picture),
    Row("GET", "/api/clips/{clip}/stretches/{first}-{last}", stretch),
    Row("GET", "/api/clips/{clip}/thumbnails/{frame}.webp", thumbnail),
    Row("GET", "/api/clips/{clip}/motion", clip_motion),
    Row("GET", "/api/clips/{clip}/proposed", proposed),
    Row("GET", "/api/clips/{clip}/camera", camera),
    Row("GET", "/api/clips/{clip}/marks", marks),
    _taking("POST", "/api/clips/{clip}/marks", SaveMarks, save_marks),
    _taking("POST", "/api/clips/{clip}/track", Carry, carry),
    _taking("POST", "/api/clips/{clip}/tracks", SaveTracks, save_tracks),
    _taking("POST", "/api/clips/{clip}/suggest", Suggest, suggest),
    Row("POST", "/api/clips/{clip}/suggest-all", suggest_all),
    Row("GET", "/api/clips/{clip}/card", card),
    _taking("POST", "/api/clips/{clip}/card", SaveCard, save_card),
    _taking("POST", "/api/clips/{clip}/length", Length, length),
    Row("POST", "/api/uploads", new_clip),
    _taking("POST", "/api/draft", DrawDraft, draft),
    _taking("POST", "/api/block", WriteBlock, block),
    _taking("POST", "/api/clips/{clip}/usual", UsualLesson, usual_lesson),
    _taking("POST", "/api/lessons", NewLesson, new_lesson),
    _taking("POST", "/api/clips/{clip}/name", RenameClip, rename_clip),
    Row("POST", "/api/clips/{clip}/away", put_clip_away),
    Row("POST", "/api/lessons/{lesson}/away", put_lesson_away),
    _taking("POST", "/api/put-away/back", TakeBack, take_back),
    Row("GET", "/api/lessons/{lesson}", lesson),
    _taking("PUT", "/api/lessons/{lesson}", SaveLesson, save_lesson),
    _taking("POST", "/api/lessons/{lesson}/offers", WriteOn, offers),
    _taking("POST", "/api/lessons/{lesson}/slips", ReadText, slips),
    _taking("POST", "/api/lessons/{lesson}/name", RenameLesson, rename_lesson),
    _taking("POST", "/api/lessons/{lesson}/figures", PutFigure, put_figure),
    Row("GET", "/api/lessons/{lesson}/wanted", wanted),
    _taking("POST", "/api/lessons/{lesson}/letter", WriteLetter, write_letter),
    Row("GET", "/api/preflight", preflight),
    _taking("POST", "/api/answers", AnswerFinding, answer_finding),
    Row("GET", "/api/saves", saves),
    Row("GET", "/api/saves/{number:int}", difference),
    _taking("POST", "/api/restore", RestoreFile, restore),
    Row("GET", "/api/proof", proof),
    Row("POST", "/api/proof", press),
    Row("GET", "/proof/{path:path}", proof_page),
    Row("GET", "/good/{path:path}", good_page),
    Row("GET", "/letter/{path:path}", letter),
    Row("GET", "/letter-without-pictures/{path:path}", letter),
    Row("GET", "/theme/{path:path}", theme),
    Row("GET", "/{path:path}", pages),
)
