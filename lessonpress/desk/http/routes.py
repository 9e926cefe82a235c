"""The table of the desk's routes. What each gives: see `desk`; what each does: `endpoints`."""

from __future__ import annotations

from collections.abc import Awaitable, Callable
from dataclasses import dataclass
from typing import TypeVar

from starlette.requests import Request
from starlette.responses import Response

from lessonpress.desk.http.context import Desk
from lessonpress.desk.http.endpoints import (
    cards,
    clips,
    composing,
    lessons,
    letters,
    looking,
    marks,
    moving,
    pages,
    proof,
    saves,
    site,
)
from lessonpress.desk.http.requests import (
    AnswerFinding,
    Carry,
    DrawDraft,
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
from lessonpress.desk.http.responses import body_of

Endpoint = Callable[[Desk, Request], Awaitable[Response]]
R = TypeVar("R", bound=Sent)


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
    Row("GET", "/api/site", site.site),
    Row("GET", "/api/events", site.events),
    Row("GET", "/api/clips/{clip}", clips.clip),
    Row("GET", "/api/clips/{clip}/doubts", clips.doubts),
    Row("GET", "/api/clips/{clip}/pictures/{frame}.webp", clips.picture),
    Row("GET", "/api/clips/{clip}/stretches/{first}-{last}", clips.stretch),
    Row("GET", "/api/clips/{clip}/thumbnails/{frame}.webp", clips.thumbnail),
    Row("GET", "/api/clips/{clip}/motion", clips.clip_motion),
    Row("GET", "/api/clips/{clip}/proposed", clips.proposed),
    Row("GET", "/api/clips/{clip}/camera", clips.camera),
    Row("GET", "/api/clips/{clip}/marks", marks.marks),
    _taking("POST", "/api/clips/{clip}/marks", SaveMarks, marks.save_marks),
    _taking("POST", "/api/clips/{clip}/track", Carry, marks.carry),
    _taking("POST", "/api/clips/{clip}/tracks", SaveTracks, marks.save_tracks),
    _taking("POST", "/api/clips/{clip}/suggest", Suggest, marks.suggest),
    Row("POST", "/api/clips/{clip}/suggest-all", marks.suggest_all),
    Row("GET", "/api/clips/{clip}/card", cards.card),
    _taking("POST", "/api/clips/{clip}/card", SaveCard, cards.save_card),
    _taking("POST", "/api/clips/{clip}/length", Length, cards.length),
    Row("POST", "/api/uploads", clips.new_clip),
    _taking("POST", "/api/draft", DrawDraft, composing.draft),
    _taking("POST", "/api/block", WriteBlock, composing.block),
    _taking("POST", "/api/clips/{clip}/usual", UsualLesson, composing.usual_lesson),
    _taking("POST", "/api/lessons", NewLesson, composing.new_lesson),
    _taking("POST", "/api/clips/{clip}/name", RenameClip, moving.rename_clip),
    Row("POST", "/api/clips/{clip}/away", moving.put_clip_away),
    Row("POST", "/api/lessons/{lesson}/away", moving.put_lesson_away),
    _taking("POST", "/api/put-away/back", TakeBack, moving.take_back),
    Row("GET", "/api/lessons/{lesson}", lessons.lesson),
    _taking("PUT", "/api/lessons/{lesson}", SaveLesson, lessons.save_lesson),
    _taking("POST", "/api/lessons/{lesson}/offers", WriteOn, lessons.offers),
    _taking("POST", "/api/lessons/{lesson}/slips", ReadText, lessons.slips),
    _taking("POST", "/api/lessons/{lesson}/name", RenameLesson, moving.rename_lesson),
    _taking("POST", "/api/lessons/{lesson}/figures", PutFigure, lessons.put_figure),
    Row("GET", "/api/lessons/{lesson}/wanted", lessons.wanted),
    _taking("POST", "/api/lessons/{lesson}/letter", WriteLetter, letters.write_letter),
    Row("GET", "/api/preflight", looking.preflight),
    _taking("POST", "/api/answers", AnswerFinding, looking.answer_finding),
    Row("GET", "/api/saves", saves.saves),
    Row("GET", "/api/saves/{number:int}", saves.difference),
    _taking("POST", "/api/restore", RestoreFile, saves.restore),
    Row("GET", "/api/proof", proof.proof),
    Row("POST", "/api/proof", proof.press),
    Row("GET", "/proof/{path:path}", proof.proof_page),
    Row("GET", "/good/{path:path}", proof.good_page),
    Row("GET", "/letter/{path:path}", letters.letter),
    Row("GET", "/letter-without-pictures/{path:path}", letters.letter),
    Row("GET", "/theme/{path:path}", pages.theme),
    Row("GET", "/{path:path}", pages.pages),
)
