"""Whatever is sent in any field of any request, the desk does it or refuses it with a reason.

A routine run tries SAMPLED requests, drawn by SEED; SLIPS=all in the environment tries every one.
"""

from __future__ import annotations

import os
import random
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from starlette.testclient import TestClient

from lessonpress.desk.http.app import Desk, application
from tests.desk.conftest import ADDRESS, PORT, TOKEN, WITH_TOKEN, files_of
from tests.desk.requests import CLIP, LESSON, PRESSED, SOUND, Request, spoilt

SAMPLED = 120
SEED = 20261128
JSON = {"Content-Type": "application/json"}


@pytest.fixture
def browser(site: Path) -> Iterator[TestClient]:
    """The author's, shown a fault of the program's own as the page is: as HTTP 500."""
    app = application(Desk.of(site), PORT, TOKEN, watching=False)
    with TestClient(app, ADDRESS, raise_server_exceptions=False, headers=WITH_TOKEN) as client:
        yield client


def test_a_sound_request_of_each_kind_is_done(browser: TestClient, site: Path) -> None:
    """Else what is tried below would be refused for another reason than its spoilt value."""
    before = files_of(site)
    refused = {}
    for request in SOUND:
        answer = sent(browser, request)
        if answer.status_code >= 400:
            refused[str(request)] = answer.text
        put_back(site, before)
    assert not refused


def test_a_foreign_value_is_refused_with_a_reason_or_done(browser: TestClient, site: Path) -> None:
    before = files_of(site)
    wrong = {}
    for request in tried():
        answer = sent(browser, request)
        changed = files_of(site) != before
        if (found := fault_of(answer, changed)) is not None:
            wrong[str(request)] = found
        if changed:
            wrong |= {f"{request}, then {path}": told for path, told in unreadable(browser).items()}
            put_back(site, before)
    assert not wrong, "\n".join(f"{request}\n    {found[:300]}" for request, found in wrong.items())


HALF, LONG = '"\\ud800"', "x" * 300  # half of a letter, which JSON can send and no file can hold
REFUSED: dict[str, tuple[Request, int]] = {
    "half a letter as a title": (
        Request("POST", "/api/lessons", f'{{"name": "a", "title": {HALF}, "clip": "dune-face-on"}}'),
        400,
    ),
    "half a letter in a refusal": (Request("POST", "/api/block", f'{{"kind": {HALF}, "fields": {{}}}}'), 400),
    "a number without bounds": (
        Request("POST", f"{CLIP}/card", '{"edits": [{"path": ["stature"], "to": 1e999}]}'),
        400,
    ),
    "a list in a list, nine hundred times": (
        Request("POST", "/api/block", f'{{"kind": "frame", "fields": {{"id": {"[" * 900 + "]" * 900}}}}}'),
        400,
    ),
    "a clip's name that no file can have": (Request("GET", f"/api/clips/{LONG}/card"), 404),
    "a lesson's name that no file can have": (Request("GET", f"/api/lessons/{LONG}"), 404),
    "a page's name that no file can have": (Request("GET", f"/proof/{LONG}"), 404),
    "an address longer than any": (Request("GET", f"/theme/{'x/' * 3000}"), 404),
    "a control character in a lesson": (
        Request("PUT", LESSON, '{"was": "", "to": "a\\u0000b", "anyway": true}'),
        422,
    ),
    "a control character in a new lesson": (
        Request(
            "POST",
            "/api/lessons",
            '{"name": "fresh", "title": "a", "clip": "dune-face-on", "blocks": ["\\u0000"]}',
        ),
        422,
    ),
    "a length from a mark to itself": (
        Request("POST", f"{CLIP}/length", '{"frame": 3, "a": "navel", "b": "navel"}'),
        422,
    ),
}


@pytest.mark.parametrize(("request_", "status"), REFUSED.values(), ids=REFUSED)
def test_what_once_ended_in_a_fault_is_refused(
    browser: TestClient, site: Path, request_: Request, status: int
) -> None:
    before = files_of(site)
    answer = sent(browser, request_)
    assert answer.status_code == status and answer.json()["error"]["reason"], answer.text
    assert files_of(site) == before


def tried() -> list[Request]:
    """Those of this run."""
    every = [request for sound in (*SOUND, *PRESSED) for request in spoilt(sound)]
    return every if os.environ.get("SLIPS") == "all" else random.Random(SEED).sample(every, SAMPLED)


def sent(browser: TestClient, request: Request) -> Any:
    return browser.request(
        request.method, request.path, content=request.body, headers=JSON if request.body is not None else {}
    )


def fault_of(answer: Any, changed: bool) -> str | None:
    """What is wrong with an answer, None for one that is as it should be."""
    if answer.status_code >= 500:
        return f"{answer.status_code}: {answer.text}"
    if answer.status_code >= 400:
        if changed:
            return f"{answer.status_code}, and something was changed: {answer.text}"
        return None if answer.json()["error"]["reason"] else "no reason"
    return None


def unreadable(browser: TestClient) -> dict[str, str]:
    """By address, what the desk's pages could not be given after a change."""
    answers = {
        path: browser.get(path) for path in (f"{CLIP}", f"{CLIP}/marks", f"{CLIP}/card", LESSON, "/api/site")
    }
    return {path: one.text for path, one in answers.items() if one.status_code >= 500}


def put_back(site: Path, before: dict[str, bytes]) -> None:
    for path in set(files_of(site)) - set(before):
        (site / path).unlink()
    for folder in site.glob("clips/*"):
        if not any(folder.iterdir()):
            folder.rmdir()
    for path, content in before.items():
        (site / path).parent.mkdir(exist_ok=True)
        if not (site / path).is_file() or (site / path).read_bytes() != content:
            (site / path).write_bytes(content)
