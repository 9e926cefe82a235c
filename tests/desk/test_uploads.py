"""Videos come in, and nothing else does."""

from __future__ import annotations

from pathlib import Path

import pytest
from starlette.testclient import TestClient

from lessonpress.desk.work import uploads
from tests.desk.conftest import files_of

VIDEO = {"Content-Type": "video/mp4"}
UPLOAD = "/api/uploads?file={}"


@pytest.fixture
def film(site: Path) -> bytes:
    return next((site / "clips" / "dune-face-on").glob("*.mp4")).read_bytes()


def test_a_video_becomes_a_clip_whose_card_asks(site: Path, author: TestClient, film: bytes) -> None:
    answer = author.post(UPLOAD.format("My Swing.MP4"), content=film, headers=VIDEO)
    assert answer.status_code == 201 and answer.json() == {"clip": "my-swing"}
    assert (site / "clips" / "my-swing" / "my-swing.mp4").read_bytes() == film
    told = author.get("/api/clips/my-swing").json()
    assert told["view"] is None and told["frames"] > 0
    wrong = [one["wrong"] for one in author.get("/api/clips/my-swing/card").json()["problems"]]
    assert len(wrong) == 4, wrong
    picture = author.get(f"/api/clips/my-swing/pictures/{told['frames'] - 1}.webp")
    assert picture.status_code == 200


REFUSED: dict[str, tuple[str, str, bytes, int]] = {
    "words": ("a.mp4", "video/mp4", b"hello there\n" * 100, 415),
    "a page called a video": ("a.mp4", "video/mp4", b"<!doctype html><script>x</script>" * 40, 415),
    "a picture called a video": ("a.mp4", "video/mp4", b"\x89PNG\r\n\x1a\n" + bytes(600), 415),
    "nothing": ("a.mp4", "video/mp4", b"", 415),
    "another type": ("a.mp4", "text/html", b"....ftypisom" + bytes(600), 415),
    "a form": ("a.mp4", "multipart/form-data", b"....ftypisom" + bytes(600), 415),
    "another ending": ("a.py", "video/mp4", b"....ftypisom" + bytes(600), 415),
    "no ending": ("mp4", "video/mp4", b"....ftypisom" + bytes(600), 415),
    "a beginning without a video": ("a.mp4", "video/mp4", b"....ftypisom" + bytes(600), 422),
    "a clip that is there": ("dune-face-on.mp4", "video/mp4", b"....ftypisom" + bytes(600), 409),
    "a path": ("../../a.mp4", "video/mp4", b"....ftypisom" + bytes(600), 422),
    "no name": (".mp4", "video/mp4", b"....ftypisom" + bytes(600), 415),
}


@pytest.mark.parametrize("case", REFUSED.values(), ids=REFUSED)
def test_what_is_no_video_is_refused_with_a_reason_and_leaves_nothing(
    site: Path, author: TestClient, case: tuple[str, str, bytes, int]
) -> None:
    file, kind, content, status = case
    before = files_of(site)
    answer = author.post(UPLOAD.format(file), content=content, headers={"Content-Type": kind})
    assert answer.status_code == status and answer.json()["error"]["reason"]
    assert files_of(site) == before
    assert not list((site / "build").glob("uploads/*"))


def test_a_name_that_is_a_path_is_refused(site: Path, author: TestClient, film: bytes) -> None:
    before = files_of(site.parent)
    for name in ("..", "a/b", "../x", "A B", "%2e%2e"):
        answer = author.post(f"{UPLOAD.format('a.mp4')}&name={name}", content=film, headers=VIDEO)
        assert answer.status_code in (404, 422), name
    assert files_of(site.parent) == before


@pytest.mark.parametrize("told", [True, False])
def test_an_upload_past_the_limit_is_refused_whether_it_says_its_size_or_not(
    site: Path, author: TestClient, film: bytes, monkeypatch: pytest.MonkeyPatch, told: bool
) -> None:
    monkeypatch.setattr(uploads, "LIMIT", 1000)
    before = files_of(site)
    content = film if told else iter([film[:600], film[600:]])
    answer = author.post(UPLOAD.format("a.mp4"), content=content, headers=VIDEO)
    assert answer.status_code == 413
    assert files_of(site) == before


def test_a_video_cut_short_is_refused(site: Path, author: TestClient, film: bytes) -> None:
    before = files_of(site)
    answer = author.post(UPLOAD.format("cut.mp4"), content=film[: len(film) // 3], headers=VIDEO)
    assert answer.status_code == 422 and answer.json()["error"]["way_out"]
    assert files_of(site) == before
