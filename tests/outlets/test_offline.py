"""The lists by which browsers keep lessons: what a page shows, each file once, and no lesson by its name."""

from __future__ import annotations

import json
from hashlib import sha256

from lessonpress.outlets.offline import File, lesson_list, site_list, worker

PAGE = File("lessons/hips/index.html", "aa", 9)
KNOWN = {
    path: File(path, f"hash of {path}", size)
    for path, size in {
        "assets/press.1.css": 5,
        "pictures/a.8.webp": 80,
        "pictures/a.16.webp": 160,
        "pictures/never shown.webp": 1,
        "lessons/hips/turn-loop.mp4": 500,
        "files/my view (2).jpg": 30,
    }.items()
}
HTML = """
<link rel="stylesheet" href="../../assets/press.1.css">
<img src="../../pictures/a.16.webp" srcset="../../pictures/a.8.webp 800w, ../../pictures/a.16.webp 1600w">
<img src="../../files/my%20view%20%282%29.jpg"><video><source src="turn-loop.mp4"></video>
<a href="../../index.html">Home</a><a href="#ledger">Ledger</a><a href="https://example.org/x.webp">x</a>
"""


def test_a_lessons_list_has_what_its_page_shows_and_sizes_of_a_picture_together() -> None:
    said = json.loads(lesson_list(PAGE, HTML, KNOWN))
    assert [[(one["path"], one.get("width")) for one in sizes] for sizes in said["files"]] == [
        [("lessons/hips/index.html", None)],
        [("pictures/a.8.webp", 800), ("pictures/a.16.webp", 1600)],
        [("assets/press.1.css", None)],
        [("files/my%20view%20%282%29.jpg", None)],
        [("lessons/hips/turn-loop.mp4", None)],
    ]
    assert said["files"][1][0] == {
        "path": "pictures/a.8.webp",
        "hash": "hash of pictures/a.8.webp",
        "size": 80,
        "width": 800,
    }


def test_the_sites_list_names_no_lesson_and_can_be_asked_for_one() -> None:
    listed = site_list([KNOWN["assets/press.1.css"]], {"lessons/hips/index.html": "ab" * 32})
    assert b"hips" not in listed
    key = sha256(b"lessons/hips/index.html").hexdigest()[:16]
    assert json.loads(listed)["lessons"] == {key: "ab" * 8}


def test_the_worker_is_another_where_the_sites_list_is_another() -> None:
    assert worker(b"one", "assets/keeper.1.js") != worker(b"two", "assets/keeper.1.js")
    assert b'importScripts("assets/keeper.1.js");' in worker(b"one", "assets/keeper.1.js")
