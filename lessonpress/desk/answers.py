"""JSON bodies in, JSON answers and refusals out; every route's endpoint returns or raises one of these."""

from __future__ import annotations

import json
from collections.abc import Iterable, Mapping
from typing import Any

from starlette.requests import Request
from starlette.responses import JSONResponse, Response

from lessonpress.records.fault import UsageError
from lessonpress.records.problem import Problem, Problems, other_lines, problem_text, shortened, shown_source

JSON_LIMIT = 8_000_000  # bytes of a JSON body
Body = Mapping[str, Any]


class RefusedError(Exception):
    """A request that is not done. status: HTTP's. more: further keys of the answer beside `error`."""

    def __init__(self, status: int, reason: str, way_out: str = "", **more: Any) -> None:
        super().__init__(reason)
        self.status, self.reason, self.way_out, self.more = status, reason, way_out, more


def refused(error: RefusedError) -> JSONResponse:
    told = {"error": {"reason": error.reason, "way_out": error.way_out}, **error.more}
    return JSONResponse(told, status_code=error.status)


def usage_as_refusal(error: UsageError) -> RefusedError:
    """What a room below cannot do as asked, as a refusal."""
    reason, _, way_out = str(error).partition("; ")
    return RefusedError(422, reason, way_out)


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


async def body_of(request: Request) -> Body:
    """The JSON mapping of a request. Raises RefusedError for any other type, size or form."""
    kind = request.headers.get("content-type", "").partition(";")[0].strip().lower()
    if kind != "application/json":
        raise RefusedError(
            415, f"`{kind or 'nothing'}` is not what is expected here", "send application/json"
        )
    raw = bytearray()
    async for piece in request.stream():
        raw += piece
        if len(raw) > JSON_LIMIT:
            raise RefusedError(413, f"more than {JSON_LIMIT // 1_000_000} MB were sent", "send less at once")
    try:
        read = json.loads(raw)
    except (ValueError, RecursionError) as error:
        raise RefusedError(400, "this is not JSON", str(error)) from error
    if not isinstance(read, dict):
        raise RefusedError(400, "a JSON mapping is expected here")
    return read


def text_in(body: Body, key: str, default: str | None = None) -> str:
    value = body.get(key, default)
    if not isinstance(value, str):
        raise RefusedError(400, f"`{key}` is to be a text")
    return value


def whole_in(body: Body, key: str) -> int:
    value = body.get(key)
    if isinstance(value, bool) or not isinstance(value, int) or value < 0:
        raise RefusedError(400, f"`{key}` is to be a whole number from 0")
    return value


def number_in(value: Any, words: str) -> float:
    """A finite number. words: what it is, for the refusal."""
    if isinstance(value, bool) or not isinstance(value, int | float) or not abs(value) < 1e7:
        raise RefusedError(400, f"{words} is to be a number")
    return float(value)


def list_in(body: Body, key: str) -> list[Any]:
    value = body.get(key)
    if not isinstance(value, list):
        raise RefusedError(400, f"`{key}` is to be a list")
    return value


def mapping_in(body: Body, key: str) -> dict[str, Any]:
    value = body.get(key, {})
    if not isinstance(value, dict):
        raise RefusedError(400, f"`{key}` is to be a mapping")
    return value


def kept(content: bytes, media: str) -> Response:
    """Bytes under an address that names what they were made from: a browser keeps them for good."""
    headers = {"Cache-Control": "private, max-age=31536000, immutable"}
    return Response(content, media_type=media, headers=headers)
