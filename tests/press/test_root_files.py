"""Files of `root/` come to the root of the pressed site as they are; one in the way is an error there."""

from __future__ import annotations

from pathlib import Path

import pytest

from lessonpress.press.progress import Silent
from lessonpress.press.run import Pressed, press

LESSON = "---\ntitle: Hips\ndate: 2026-11-02\nformer: [/2019/hips]\n---\n\nWords.\n"


@pytest.fixture
def site(tmp_path: Path) -> Path:
    root = tmp_path / "notebook"
    (root / "lessons").mkdir(parents=True)
    (root / "root").mkdir()
    (root / "site.yaml").write_text("title: Notebook\nurl: https://example.org/n\n", encoding="utf-8")
    (root / "lessons" / "hips.md").write_text(LESSON, encoding="utf-8")
    return root


def pressed(site: Path) -> tuple[Pressed, Path]:
    return press(site, site / "build" / "site", Silent()), site / "build" / "site"


def put(site: Path, path: str, content: bytes = b"as it is\r\n") -> None:
    (site / "root" / path).parent.mkdir(parents=True, exist_ok=True)
    (site / "root" / path).write_bytes(content)


def test_hidden_files_and_folders_come_along_and_go_when_they_are_taken_out(site: Path) -> None:
    """`.well-known` is RFC 8615's; files whose name begins with a dot or `_` are hosts' own."""
    paths = ("CNAME", ".well-known/security.txt", "_headers", "2019/other.html")
    for path in paths:
        put(site, path)
    put(site, ".DS_Store")
    done, out = pressed(site)
    assert done.problems.collected == []
    assert [(out / path).read_bytes() for path in paths] == [b"as it is\r\n"] * 4
    assert not (out / ".DS_Store").exists()
    assert pressed(site)[0].summary.anew is False  # type: ignore[union-attr]
    put(site, "CNAME", b"another\n")
    (site / "root" / "_headers").unlink()
    pressed(site)
    assert (out / "CNAME").read_bytes() == b"another\n"
    assert not (out / "_headers").exists()


@pytest.mark.parametrize(
    ("path", "wrong"),
    [
        ("index.html", "`index.html` lies where the press puts files of its own, `index.html`"),
        ("Lessons/hips/note.txt", "`Lessons/hips/note.txt` lies where the press puts files of its own"),
        ("2019/Hips/index.html", "`2019/Hips/index.html` is in the way of lessons/hips.md"),
        ("2019/hips", "`2019/hips` is in the way of lessons/hips.md"),
        (".git/config", "this is a history of version control"),
        ("a:b.txt", "many hosts and disks cannot call a file so"),
    ],
)
def test_a_file_in_the_way_is_an_error_at_its_place(site: Path, path: str, wrong: str) -> None:
    put(site, path)
    done, out = pressed(site)
    assert done.summary is None
    (problem,) = done.problems.errors
    assert problem.location.path == f"root/{'.git' if path.startswith('.git') else path}"
    assert problem.wrong.startswith(wrong)
    assert not out.exists()


def test_a_link_out_of_the_site_is_not_published(site: Path, tmp_path: Path) -> None:
    (tmp_path / "secret.txt").write_bytes(b"not to be published")
    (site / "root" / "CNAME").symlink_to(tmp_path / "secret.txt")
    done, _ = pressed(site)
    assert [one.wrong for one in done.problems.errors] == ["this is a link out of the site"]


@pytest.mark.parametrize(
    ("name", "told"),
    [
        ("card.jpg", b"\xff\xd8\xff\xe1\0\x10Exif\0\0MM"),
        ("swing.mov", b"\0\0\0\x1e\xa9xyz\0\x12\x15\xc7+54.1+010.5/"),
        ("swing.MP4", b"mdta com.apple.quicktime.model"),
    ],
)
def test_a_picture_or_film_that_says_where_it_was_made_is_an_error(
    site: Path, name: str, told: bytes
) -> None:
    put(site, name, told)
    put(site, "words.txt", told)
    (site / "lessons" / name).write_bytes(told)
    with (site / "lessons" / "hips.md").open("a", encoding="utf-8") as lesson:
        lesson.write(f"\n[The film]({name})\n" if name != "card.jpg" else "")
    done, out = pressed(site)
    paths = {one.location.path for one in done.problems.errors}
    assert paths == {f"root/{name}"} | ({f"lessons/{name}"} if name != "card.jpg" else set())
    assert all("says where, when or with what" in one.wrong for one in done.problems.errors)
    assert not out.exists()


def test_an_icon_of_the_sites_own_takes_the_place_of_the_themes(site: Path) -> None:
    _, out = pressed(site)
    assert '<link rel="icon" href="data:' in (out / "index.html").read_text(encoding="utf-8")
    put(site, "favicon.ico")
    pressed(site)
    page = (out / "lessons" / "hips" / "index.html").read_text(encoding="utf-8")
    assert '<link rel="icon" href="../../favicon.ico">' in page
    assert '<link rel="icon" href="/n/favicon.ico">' in (out / "404.html").read_text(encoding="utf-8")
