"""Files that lessons link to come along as they are, and drafts only where they are asked for."""

from __future__ import annotations

import io
from pathlib import Path

import pytest
from PIL import Image
from PIL.PngImagePlugin import PngInfo

from lessonpress.press.cache import Cache
from lessonpress.press.progress import Silent
from lessonpress.press.run import Pressed, press
from lessonpress.press.steps.dockets import Dockets

LESSON = """\
---
title: The handout
date: 2026-11-02
---
![me](../pictures/me.png) and [the handout](../papers/handout.pdf#page=2).
"""
DRAFT = """\
---
title: Not yet
date: 2026-11-03
topics: [waiting]
draft: true
---
See [the handout](handout.md), {nothing} and [a paper](../papers/lost.pdf).
"""
PAPER = b"%PDF- not looked into"


def _picture() -> bytes:
    """A small picture that says where it was taken."""
    facts = PngInfo()
    facts.add_text("Location", "54 N, 10 E")
    written = io.BytesIO()
    Image.new("RGB", (3, 2), "red").save(written, "PNG", pnginfo=facts)
    return written.getvalue()


@pytest.fixture
def site(tmp_path: Path) -> Path:
    root = tmp_path / "notebook"
    for folder in ("lessons", "pictures", "papers"):
        (root / folder).mkdir(parents=True)
    (root / "site.yaml").write_text("title: Notebook\nurl: https://example.org\n", encoding="utf-8")
    (root / "lessons" / "handout.md").write_text(LESSON, encoding="utf-8")
    (root / "pictures" / "me.png").write_bytes(_picture())
    (root / "papers" / "handout.pdf").write_bytes(PAPER)
    return root


def pressed(site: Path, *, drafts: bool = False) -> tuple[Pressed, Path]:
    out = site / "build" / "site"
    return press(site, out, Silent(), drafts=drafts), out


def test_a_file_comes_along_as_it_is_and_its_link_leads_there(site: Path) -> None:
    done, out = pressed(site)
    assert done.problems.collected == []
    with Image.open(out / "files" / "pictures" / "me.png") as picture:
        assert (picture.size, dict(picture.info)) == ((3, 2), {})
    assert (out / "files" / "papers" / "handout.pdf").read_bytes() == PAPER
    page = (out / "lessons" / "handout" / "index.html").read_text(encoding="utf-8")
    assert '<img src="../../files/pictures/me.png" alt="me"' in page
    assert 'href="../../files/papers/handout.pdf#page=2"' in page


def test_a_picture_that_is_none_is_an_error_where_it_is_shown(site: Path) -> None:
    (site / "pictures" / "me.png").write_bytes(b"GIF89a, perhaps")
    done, out = pressed(site)
    (problem,) = done.problems.errors
    assert (problem.location.path, problem.location.line) == ("lessons/handout.md", 5)
    assert problem.wrong == "`me.png` cannot be shown: it is not a PNG picture"
    assert not out.exists()


def test_a_link_out_of_the_site_by_a_symbolic_link_is_refused(site: Path, tmp_path: Path) -> None:
    secret = tmp_path / "secret.png"
    secret.write_bytes(b"not to be published")
    (site / "pictures" / "me.png").unlink()
    (site / "pictures" / "me.png").symlink_to(secret)
    done, out = pressed(site)
    assert done.summary is None
    assert [problem.wrong for problem in done.problems.errors] == [
        "this links to `../pictures/me.png`, which lies outside the site"
    ]
    assert not out.exists()


def test_drafts_are_pressed_and_checked_where_they_are_asked_for(site: Path) -> None:
    (site / "lessons" / "next.md").write_text(DRAFT, encoding="utf-8")
    done, out = pressed(site)
    assert done.problems.collected == []
    assert not (out / "lessons" / "next").exists()
    done, _ = pressed(site, drafts=True)
    assert [str(problem.location) for problem in done.problems.in_order()] == [
        "lessons/next.md:7:32",
        "lessons/next.md:7:56",
    ]


def test_a_draft_says_so_and_is_listed_nowhere(site: Path) -> None:
    text = DRAFT.replace("{nothing}", "nothing").replace("lost.pdf", "handout.pdf")
    (site / "lessons" / "next.md").write_text(text, encoding="utf-8")
    done, out = pressed(site, drafts=True)
    assert done.problems.collected == []
    assert done.notes.drafts == ("lessons/next/index.html",)
    page = (out / "lessons" / "next" / "index.html").read_text(encoding="utf-8")
    assert ">Draft, not published<" in page
    assert '<meta name="robots" content="noindex">' in page
    elsewhere = [path for path in out.rglob("*") if path.is_file() and path.parent.name != "next"]
    listing = [path for path in elsewhere if path.suffix in (".html", ".xml", ".json", ".txt")]
    named = [path.name for path in listing if "lessons/next" in path.read_text(encoding="utf-8")]
    assert named == []


def test_a_cache_that_somebody_sent_cannot_publish_what_lies_outside_the_site(site: Path) -> None:
    secret = site.parent / "secret.txt"
    secret.write_bytes(b"not to be published")
    _, out = pressed(site)
    cache = Cache(site / "build" / "cache")
    dockets = Dockets.kept(cache)
    (key,) = (one for one in dockets.of if one[:2] == ("attached file", "papers/handout.pdf"))
    (docket,) = dockets.of[key]
    sent = tuple(put._replace(name="../secret.txt", hashed="0") for put in docket.puts)
    dockets.of[key] = (docket._replace(puts=sent),)
    dockets.keep(cache)
    (site / "lessons" / "handout.md").write_text(LESSON + "\nMore.\n", encoding="utf-8")
    with pytest.raises(OSError, match="is a link out of the site"):
        pressed(site)
    assert not [path for path in out.rglob("*") if path.is_file() and b"not to be" in path.read_bytes()]
