"""No address leads out of the site's folder."""

from __future__ import annotations

from pathlib import Path

import pytest
from starlette.testclient import TestClient

from lessonpress.desk.http.paths import inside, served
from lessonpress.desk.http.responses import RequestError
from tests.desk.conftest import files_of

OUTSIDE = (
    "..",
    "%2e%2e",
    "..%2f..%2fetc",
    "%2fetc%2fpasswd",
    ".hidden",
    "a%2fb",
    "a%5cb",
    "%00",
    "~root",
    "-",
    "CON:",
)
EDIT = {"edits": [{"mark": "belt", "frame": 1, "was": None, "to": [1.0, 2.0]}]}


@pytest.mark.parametrize("name", OUTSIDE)
def test_a_name_that_is_a_path_is_refused_and_nothing_is_written(
    site: Path, author: TestClient, name: str
) -> None:
    before = files_of(site.parent)
    for answer in (
        author.get(f"/api/clips/{name}/marks"),
        author.post(f"/api/clips/{name}/marks", json=EDIT),
        author.put(f"/api/lessons/{name}", json={"was": "", "to": "x"}),
        author.get(f"/proof/{name}/site.yaml"),
        author.get(f"/{name}/__init__.py"),
    ):
        assert answer.status_code in (403, 404, 405), answer.url
    assert files_of(site.parent) == before


@pytest.mark.parametrize("part", ["..", ".", "", "/etc", "a/b", "a\\b", ".x", "a\0", "C:", "x" * 300 + "/"])
def test_a_part_of_a_path_is_one_plain_name(tmp_path: Path, part: str) -> None:
    with pytest.raises(RequestError):
        inside(tmp_path.resolve(), "clips", part)


def test_what_lies_behind_a_link_is_neither_read_nor_written(
    site: Path, author: TestClient, tmp_path: Path
) -> None:
    outside = tmp_path / "outside"
    outside.mkdir()
    (outside / "marks.yaml").write_text("navel:\n  1: [1, 2]\n", encoding="utf-8")
    (outside / "secret.md").write_text("secret", encoding="utf-8")
    (site / "clips" / "linked").symlink_to(outside, target_is_directory=True)
    (site / "lessons" / "linked.md").symlink_to(outside / "secret.md")
    marks = site / "clips" / "dune-face-on" / "marks.yaml"
    marks.unlink()
    marks.symlink_to(outside / "marks.yaml")
    before = files_of(outside)
    assert author.get("/api/clips/linked/card").status_code == 403
    assert author.post("/api/clips/linked/marks", json=EDIT).status_code == 403
    assert author.get("/api/lessons/linked").status_code == 403
    assert author.put("/api/lessons/linked", json={"was": "secret", "to": "x"}).status_code == 403
    assert author.post("/api/clips/dune-face-on/marks", json=EDIT).status_code == 403
    assert files_of(outside) == before


def test_a_video_that_is_a_link_within_the_site_is_shown_as_the_press_takes_it(
    site: Path, author: TestClient
) -> None:
    video = next((site / "clips" / "dune-face-on").glob("*.mp4"))
    kept = site / "films" / video.name
    kept.parent.mkdir()
    video.rename(kept)
    video.symlink_to(kept)
    told = author.get("/api/clips/dune-face-on")
    assert told.status_code == 200
    assert author.get(told.json()["picture"].replace("{frame}", "3")).status_code == 200


def test_a_linked_video_is_not_shown(site: Path, author: TestClient, tmp_path: Path) -> None:
    folder = site / "clips" / "dune-face-on"
    video = next(folder.glob("*.mp4"))
    video.rename(tmp_path / video.name)
    video.symlink_to(tmp_path / video.name)
    assert author.get("/api/clips/dune-face-on/pictures/1.webp").status_code == 403


def test_pressed_files_are_served_from_inside_their_folder_only(tmp_path: Path) -> None:
    pressed = tmp_path / "pressed"
    (pressed / "lessons").mkdir(parents=True)
    (pressed / "index.html").write_text("home", encoding="utf-8")
    (tmp_path / "secret").write_text("secret", encoding="utf-8")
    (pressed / "link").symlink_to(tmp_path / "secret")
    assert served(pressed, "") == served(pressed, "index.html") == (pressed / "index.html").resolve()
    for path in ("../secret", "link", "lessons", "lessons/../../secret", ".x", "a\0b", "lessons\\..\\secret"):
        assert served(pressed, path) is None, path
