"""Who may ask the desk for what: no one from elsewhere, and no one without the token for a change."""

from __future__ import annotations

from pathlib import Path

import pytest
from starlette.testclient import TestClient

from tests.desk.conftest import ADDRESS, PORT, TOKEN, WITH_TOKEN, files_of

MARKS = "/api/clips/dune-face-on/marks"
EDIT = {"edits": [{"mark": "belt", "frame": 1, "was": None, "to": [1.0, 2.0]}]}

REFUSED: dict[str, dict[str, str]] = {
    "no token": {},
    "another token": {"X-Desk-Token": "guess"},
    "an empty token": {"X-Desk-Token": ""},
    "another cookie": {"Cookie": f"desk-{PORT}=guess"},
    "a foreign name": {**WITH_TOKEN, "Host": "swing.example"},
    "a foreign name with the port": {**WITH_TOKEN, "Host": f"swing.example:{PORT}"},
    "another port": {**WITH_TOKEN, "Host": "127.0.0.1:1"},
    "no port": {**WITH_TOKEN, "Host": "127.0.0.1"},
    "a foreign origin": {**WITH_TOKEN, "Origin": "http://swing.example"},
    "another port's origin": {**WITH_TOKEN, "Origin": "http://127.0.0.1:1"},
    "no origin's origin": {**WITH_TOKEN, "Origin": "null"},
    "https": {**WITH_TOKEN, "Origin": f"https://127.0.0.1:{PORT}"},
    "a page elsewhere": {**WITH_TOKEN, "Sec-Fetch-Site": "cross-site"},
    "a page of another port": {**WITH_TOKEN, "Sec-Fetch-Site": "same-site"},
}


@pytest.mark.parametrize("headers", REFUSED.values(), ids=REFUSED)
def test_a_change_from_elsewhere_is_refused_and_nothing_is_written(
    site: Path, stranger: TestClient, headers: dict[str, str]
) -> None:
    before = files_of(site)
    answers = [
        stranger.post(MARKS, json=EDIT, headers=headers),
        stranger.put("/api/lessons/pelvis", json={"was": "", "to": "x", "anyway": True}, headers=headers),
        stranger.post(
            "/api/uploads?file=a.mp4", content=b"x", headers={**headers, "Content-Type": "video/mp4"}
        ),
    ]
    assert [answer.status_code for answer in answers] == [403, 403, 403]
    assert all(answer.json()["error"]["reason"] for answer in answers)
    assert files_of(site) == before


@pytest.mark.parametrize(
    "headers",
    [
        WITH_TOKEN,
        {"Cookie": f"desk-{PORT}={TOKEN}"},
        {**WITH_TOKEN, "Origin": ADDRESS, "Sec-Fetch-Site": "same-origin"},
        {**WITH_TOKEN, "Host": f"localhost:{PORT}", "Origin": f"http://localhost:{PORT}"},
    ],
)
def test_the_desks_own_pages_may_change_files(stranger: TestClient, headers: dict[str, str]) -> None:
    assert stranger.post(MARKS, json=EDIT, headers=headers).status_code == 200


def test_json_that_a_form_could_send_is_no_change(site: Path, author: TestClient) -> None:
    """A page elsewhere can post text/plain without asking first (Fetch Standard, CORS-safelisted types)."""
    before = files_of(site)
    body = b'{"edits": [{"mark": "belt", "frame": 1, "was": null, "to": [1, 2]}]}'
    for kind in ("text/plain", "application/x-www-form-urlencoded", "multipart/form-data", ""):
        assert author.post(MARKS, content=body, headers={"Content-Type": kind}).status_code == 415
    assert files_of(site) == before


def test_more_than_the_limit_is_refused(author: TestClient) -> None:
    body = b'{"edits": [' + b" " * 8_100_000 + b"]}"
    answer = author.post(MARKS, content=body, headers={"Content-Type": "application/json"})
    assert answer.status_code == 413


def test_reading_is_refused_by_another_name_and_to_pages_elsewhere(stranger: TestClient) -> None:
    assert stranger.get("/api/site").status_code == 200
    assert stranger.get("/api/site", headers={"Host": "swing.example"}).status_code == 403
    assert stranger.get("/", headers={"Host": f"rebound.example:{PORT}"}).status_code == 403
    assert stranger.get("/api/site", headers={"Sec-Fetch-Site": "cross-site"}).status_code == 403


def test_the_opening_address_gives_the_token_as_a_cookie_that_stays_with_this_site(
    stranger: TestClient,
) -> None:
    opened = stranger.get(f"/?token={TOKEN}", follow_redirects=False)
    cookie = opened.headers["set-cookie"].lower()
    assert opened.status_code == 303 and opened.headers["location"] == "/"
    assert "httponly" in cookie and "samesite=strict" in cookie
    assert stranger.get("/api/site").json()["may_change"] is True


def test_a_wrong_token_in_the_address_gives_no_cookie(stranger: TestClient) -> None:
    opened = stranger.get("/?token=guess", follow_redirects=False)
    assert "set-cookie" not in opened.headers
    assert stranger.get("/api/site").json()["may_change"] is False


def test_no_page_lets_inline_scripts_or_other_hosts_in(stranger: TestClient) -> None:
    """Content Security Policy Level 3: without 'unsafe-inline' no script in the text runs."""
    for path in ("/", "/api/site", "/proof/index.html", "/nowhere"):
        policy = stranger.get(path).headers["content-security-policy"]
        rules = {rule.split()[0]: rule.split()[1:] for rule in policy.split(";")}
        assert rules["default-src"] == ["'none'"] and rules["script-src"] == ["'self'"], path
        assert rules["base-uri"] == rules["form-action"] == rules["object-src"] == ["'none'"]
