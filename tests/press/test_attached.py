"""Files that lessons link to come along as they are, and drafts only where they are asked for."""

from __future__ import annotations

import io
import re
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
CARD = "source: {kind: own, credit: Marram, licence: CC BY 4.0}\npeople: []\n"
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
    (root / "pictures" / "me.png.yaml").write_text(CARD, encoding="utf-8")
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
    (shown,) = re.findall(
        r'<img [^>]*src="../../(pictures/files/pictures/me-[0-9a-f]{10}-3.webp)" alt="me"', page
    )
    with Image.open(out / shown) as picture:
        assert (picture.size, picture.convert("RGB").getpixel((1, 1))) == ((3, 2), (255, 0, 0))
    assert '<small class="picture-credit">Marram, CC BY 4.0</small>' in page
    assert 'href="../../files/papers/handout.pdf#page=2"' in page


def test_a_picture_that_is_none_is_an_error_where_it_is_shown(site: Path) -> None:
    (site / "pictures" / "me.png").write_bytes(b"GIF89a, perhaps")
    done, out = pressed(site)
    (problem,) = done.problems.errors
    assert (problem.location.path, problem.location.line) == ("lessons/handout.md", 5)
    assert problem.wrong == "`me.png` cannot be shown: it is not a PNG picture"
    assert not out.exists()


def problems_of(site: Path) -> list[str]:
    return [f"{one.location}: {one.wrong}" for one in pressed(site)[0].problems.errors]


def test_a_picture_needs_a_card_and_each_line_that_shows_one_without_says_so(site: Path) -> None:
    (site / "pictures" / "me.png.yaml").unlink()
    why = "nothing says whose picture `me.png` is and who can be recognised on it"
    assert problems_of(site) == [f"lessons/handout.md:5:7: {why}"]


@pytest.mark.parametrize(
    ("card", "wrong"),
    [
        ("source: {kind: own}\n", "1:1: nothing says who can be recognised"),
        ("people: []\n", "1:1: nothing says where this picture comes from"),
        (
            "source: {kind: own}\npeople: [{name: Dune, consent: written, until: 2026-01-02}]\n",
            "2:48: the consent of Dune ended on 2026-01-02",
        ),
        ("source: {kind: licensed, credit: Dune}\npeople: []\n", "1:16: licensed picture names no licence"),
        (CARD + "obscure: [{at: [1, 9], across: 2 px}]\n", "3:16: this point lies outside the picture"),
        (CARD + "blur: me\n", "3:1: there is no key `blur` here"),
    ],
)
def test_a_card_is_held_to_what_a_clips_is(site: Path, card: str, wrong: str) -> None:
    (site / "pictures" / "me.png.yaml").write_text(card, encoding="utf-8")
    (problem,) = problems_of(site)
    assert problem.startswith(f"pictures/me.png.yaml:{wrong}")


def test_a_picture_whose_rights_ended_names_the_texts_that_show_it_and_how_it_is_withdrawn(
    site: Path,
) -> None:
    """A draft shows it too, and is not named: it has no page."""
    person = "{name: Dune Marram, consent: written, until: 2026-01-02}"
    source = "{kind: licensed, credit: A, licence: CC BY 4.0, until: 2026-01-03}"
    card = f"source: {source}\npeople: [{person}]\n"
    (site / "pictures" / "me.png.yaml").write_text(card, encoding="utf-8")
    (site / "lessons" / "next.md").write_text(DRAFT + "\n![me](../pictures/me.png)\n", encoding="utf-8")
    shows = "and lessons/handout.md shows the picture"
    assert [(one.wrong, one.right) for one in pressed(site)[0].problems.in_order()] == [
        (
            f"the licence ended on 2026-01-03, {shows}",
            "renew it, or `lessonpress withdraw pictures/me.png`",
        ),
        (
            f"the consent of Dune Marram ended on 2026-01-02, {shows}",
            "ask again and change the date, or `lessonpress withdraw pictures/me.png`",
        ),
    ]
    (site / "pages").mkdir()
    page = "---\ntitle: About\n---\n\n![me](../pictures/me.png)\n"
    (site / "pages" / "about.md").write_text(page, encoding="utf-8")
    told = [one.wrong for one in pressed(site)[0].problems.in_order()]
    assert all(one.endswith("lessons/handout.md, pages/about.md show the picture") for one in told)


def test_what_a_card_obscures_is_in_no_file_of_the_site(site: Path) -> None:
    """A white dot on black: within the disc nothing of it is left in any size, the original's among them."""
    dotted = Image.new("RGB", (1600, 900), "black")
    dotted.paste("white", (800, 300, 804, 304))
    dotted.save(site / "pictures" / "me.png")
    card = CARD + "obscure: [{at: [802, 302], across: 90 px}]\n"
    (site / "pictures" / "me.png.yaml").write_text(card, encoding="utf-8")
    done, out = pressed(site)
    assert done.problems.collected == []
    made = [path for path in out.rglob("me[.-]*") if path.is_file()]
    widths = {}
    for path in made:
        with Image.open(path) as picture:
            widths[path.suffix, picture.width] = max(high for _, high in picture.convert("RGB").getextrema())
    assert set(widths) == {(".png", 1600), (".png", 960), (".webp", 480), (".webp", 800), (".webp", 1280)}
    assert max(widths.values()) < 20, "a light of 255 would be left of what can be seen"
    page = (out / "lessons" / "handout" / "index.html").read_text(encoding="utf-8")
    assert re.search(r'srcset="[^"]*-480\.webp 480w, [^"]*-800\.webp 800w, [^"]*-1280\.webp 1280w"', page)
    assert 'width="1280" height="720"' in page


def test_cards_and_names_of_the_press_are_not_linked_to(site: Path) -> None:
    (site / "pictures" / "me.png.letter.png").write_bytes(_picture())
    text = LESSON + "\n[a](../pictures/me.png.yaml) [b](../pictures/me.png.letter.png)\n"
    (site / "lessons" / "handout.md").write_text(text, encoding="utf-8")
    assert problems_of(site) == [
        "lessons/handout.md:7:5: `../pictures/me.png.yaml` is the card of a picture, which is not published",
        "lessons/handout.md:7:34: `../pictures/me.png.letter.png` is what the press calls"
        " a picture for letters",
    ]


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
    Dockets(dockets.of, dockets.parts, uses=dockets.uses).keep(cache)
    (site / "lessons" / "handout.md").write_text(LESSON + "\nMore.\n", encoding="utf-8")
    with pytest.raises(OSError, match="is a link out of the site"):
        pressed(site)
    assert not [path for path in out.rglob("*") if path.is_file() and b"not to be" in path.read_bytes()]
