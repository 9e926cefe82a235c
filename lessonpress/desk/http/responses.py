"""JSON bodies in, JSON answers and refusals out; every route's endpoint returns or raises one of these."""

from __future__ import annotations

import json
import math
import re
from collections.abc import Iterable, Mapping
from typing import Any

from starlette.requests import Request
from starlette.responses import JSONResponse, Response

from lessonpress.manuscript import DEEPEST
from lessonpress.records import (
    Problem,
    Problems,
    UsageError,
    other_lines,
    problem_text,
    shortened,
    shown_source,
)

JSON_LIMIT = 8_000_000  # bytes of a JSON body
_HALVES = re.compile("[\ud800-\udfff]")  # of a surrogate pair: JSON can send one alone, UTF-8 has none


class RequestError(Exception):
    """A request that is not done. status: HTTP's. more: further keys of the answer beside `error`."""

    def __init__(self, status: int, reason: str, way_out: str = "", **more: Any) -> None:
        super().__init__(reason)
        self.status, self.reason, self.way_out, self.more = status, reason, way_out, more


def refused(error: RequestError) -> JSONResponse:
    body = {"error": {"reason": error.reason, "way_out": error.way_out}, **error.more}
    return JSONResponse(body, status_code=error.status)


def usage_as_refusal(error: UsageError) -> RequestError:
    """What a room below cannot do as asked, as a refusal."""
    reason, _, way_out = str(error).partition("; ")
    return RequestError(422, reason, way_out)


def answer(content: Mapping[str, Any], status: int = 200) -> JSONResponse:
    return JSONResponse(content, status_code=status)


def problem_json(problem: Problem) -> dict[str, Any]:
    location = problem.location
    return {
        "severity": problem.severity,
        "path": location.path,
        "line": location.line,
        "column": location.column,
        "wrong": shortened(problem.wrong) + other_lines(problem) + _and_more(problem),
        "right": shortened(problem.right),
        "nearest": [shortened(name) for name in problem.nearest],
        "source_line": shown_source(problem),
        "told": problem_text(problem),
    }


def _and_more(problem: Problem) -> str:
    return f" (and {problem.more:,} more of this kind)" if problem.more else ""


def problems_json(problems: Iterable[Problem]) -> list[dict[str, Any]]:
    """The list as the desk shows it, cut short where it has many of a kind."""
    return [problem_json(problem) for problem in Problems(list(problems)).listed()]


async def body_of(request: Request) -> dict[str, Any]:
    """The JSON mapping of a request. Raises RequestError for any other type, size or form."""
    kind = request.headers.get("content-type", "").partition(";")[0].strip().lower()
    if kind != "application/json":
        raise RequestError(
            415, f"`{kind or 'nothing'}` is not what is expected here", "send application/json"
        )
    raw = bytearray()
    async for piece in request.stream():
        raw += piece
        if len(raw) > JSON_LIMIT:
            raise RequestError(413, f"more than {JSON_LIMIT // 1_000_000} MB were sent", "send less at once")
    try:
        read = json.loads(raw)
    except (ValueError, RecursionError) as error:
        raise RequestError(400, "this is not JSON", str(error)) from error
    if not isinstance(read, dict):
        raise RequestError(400, "a JSON mapping is expected here")
    _refuse_what_no_file_holds(read)
    return read


def _refuse_what_no_file_holds(read: Any, depth: int = 0) -> None:
    """No number without bounds, no half of a letter, no nesting past what a file of the site may have."""
    if depth > DEEPEST:
        raise RequestError(400, f"this is nested deeper than {DEEPEST} levels", "send it flatter")
    if isinstance(read, float) and not math.isfinite(read):
        raise RequestError(400, "a number without bounds is no number here", "send a finite one")
    if isinstance(read, str) and _HALVES.search(read):
        raise RequestError(400, "half of a letter is no text", "send whole letters")
    if isinstance(read, dict):
        for one in (*read, *read.values()):
            _refuse_what_no_file_holds(one, depth + 1)
    if isinstance(read, list):
        for one in read:
            _refuse_what_no_file_holds(one, depth + 1)


def kept(content: bytes, media: str) -> Response:
    """Bytes under an address that names what they were made from: a browser keeps them for good."""
    headers = {"Cache-Control": "private, max-age=31536000, immutable"}
    return Response(content, media_type=media, headers=headers)
