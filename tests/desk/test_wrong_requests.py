"""Every wrong request of `wrong_requests.md`: what was sent, and the status and sentence that came back.

A case is a body on a line of its own, and below it, indented, the answer; the heading says which route.
Nothing that an author wrote may be changed by any of them.
"""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

from starlette.testclient import TestClient

from tests.desk.conftest import files_of

DOCUMENT = Path(__file__).with_name("wrong_requests.md")


def cases() -> Iterator[tuple[str, str, str, str]]:
    """Method, address, body and the answer wanted."""
    method = address = body = ""
    for line in DOCUMENT.read_text(encoding="utf-8").splitlines():
        if line.startswith("## "):
            method, address = line.removeprefix("## ").split()
        elif line.startswith(("{", "[")):
            body = line
        elif line.startswith("    "):
            yield method, address, body, line.strip()


def test_every_wrong_request_is_refused_in_a_plain_sentence(site: Path, author: TestClient) -> None:
    before = files_of(site)
    told = {case[:3]: answer_to(author, *case[:3]) for case in cases()}
    assert len(told) > 50
    assert told == {case[:3]: case[3] for case in cases()}
    assert files_of(site) == before


def answer_to(author: TestClient, method: str, address: str, body: str) -> str:
    answer = author.request(method, address, content=body, headers={"Content-Type": "application/json"})
    error = answer.json()["error"]
    return f"{answer.status_code} {'; '.join(filter(None, (error['reason'], error['way_out'])))}"
