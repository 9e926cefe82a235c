"""However an earlier path is written, one path of the site comes of it, or it is refused."""

from __future__ import annotations

import pytest

from lessonpress.manuscript.fields.invalid_value import InvalidValueError
from lessonpress.manuscript.site.formerpath import former_path


@pytest.mark.parametrize(
    ("written", "path"),
    [
        ("other", "lessons/other"),
        ("other.md", "lessons/other"),
        ("lessons/other.md", "lessons/other"),
        ("lessons/other", "lessons/other"),
        ("/lessons/other/", "lessons/other"),
        ("lessons/other/index.html", "lessons/other"),
        ("lessons/other/INDEX.HTML", "lessons/other"),
        ("lessons/%6Fther", "lessons/other"),
        ("/other", "other"),
        ("old/no-2.html", "old/no-2.html"),
        ("2024/h%C3%BCfte", "2024/hüfte"),
        ("2024/hu\u0308fte", "2024/hüfte"),
    ],
)
def test_the_ways_of_writing_a_path_are_one(written: str, path: str) -> None:
    assert former_path(written) == path


@pytest.mark.parametrize(
    "written",
    [
        ".", "..", "", "/", "//", " ", "index.html", "/index.html", "./", "a/../b", "a/./b", "%2e%2e/a",
        "%2e", "a//b", "a\\b", "a%5Cb", "a%2Fb", "a%00b", "a%zz", "%ff", "https://e.x/a", "a?b", "a#b",
        "a/.hidden", "a/b.", "a/b ", "a\nb", "a/<b>", 'a/"b"', "x" * 201, "ü" * 101, "abc/" * 300, "a/\u202e",
    ],
)  # fmt: skip
def test_what_is_no_path_of_the_site_is_refused(written: str) -> None:
    with pytest.raises(InvalidValueError):
        former_path(written)
