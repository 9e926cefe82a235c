"""The desk writes letters as the command does, and shows them under a policy that lets nothing run."""

from __future__ import annotations

from pathlib import Path

from starlette.testclient import TestClient

from lessonpress.press.letters import MailOptions, write_letters
from lessonpress.press.progress import Silent
from tests.conftest import Rewrite

LETTER = "/api/lessons/pelvis/letter"


def test_the_desk_writes_the_letter_that_the_command_writes(
    pressed_site: Path, site: Path, author: TestClient
) -> None:
    told = author.post(LETTER, json={"excerpt": True}).json()
    folder = site / told["folder"]
    assert told["preview"] == "pelvis/preview.html"
    assert told["files"] == {path.name: path.stat().st_size for path in folder.iterdir() if path.is_file()}
    made = {path.name: path.read_bytes() for path in folder.rglob("*") if path.is_file()}
    (written,) = write_letters(site, ["pelvis"], MailOptions(excerpt=True), Silent()).folders
    assert written == folder
    assert made == {path.name: path.read_bytes() for path in folder.rglob("*") if path.is_file()}
    shown = author.get("/letter/pelvis/preview.html")
    assert shown.content == made["preview.html"]
    policy = shown.headers["content-security-policy"]
    assert "default-src 'none'" in policy and "script-src" not in policy and "img-src 'self'" in policy
    picture = next(name for name in made if name.endswith(".png"))
    assert f'src="pictures/{picture}"' in shown.text
    assert author.get(f"/letter/pelvis/pictures/{picture}").content == made[picture]
    without = author.get("/letter-without-pictures/pelvis/preview.html")
    assert without.content == shown.content
    assert "img-src" not in without.headers["content-security-policy"]
    assert author.get("/letter/../cache/version").status_code == 404


def test_what_keeps_a_letter_from_being_sent_is_said(
    site: Path, author: TestClient, rewrite: Rewrite
) -> None:
    lesson = site / "lessons" / "pelvis.md"
    rewrite(lesson, "date:", "listed: false\ndate:")
    answer = author.post(LETTER, json={})
    assert (answer.status_code, answer.json()["error"]["reason"]) == (
        422,
        "pelvis is not listed: it is for those who are given its address",
    )
    rewrite(lesson, "listed: false", "listed: never")
    answer = author.post(LETTER, json={"unlisted": True})
    assert answer.status_code == 422 and answer.json()["problems"][0]["path"] == "lessons/pelvis.md"
    assert not (site / "build" / "mail").exists()
