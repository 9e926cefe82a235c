"""Lessons as letters: what a mail program is given, and that it says what the site says.

Messages are read by the standard library's email package and by fast-mail-parser, which rests on another
implementation of RFC 5322 and MIME; HTML by html5lib, which raises at the first parse error of the HTML
Standard.
"""

from __future__ import annotations

import email
import email.policy
import json
import re
import shutil
from email.message import EmailMessage
from pathlib import Path
from typing import Any

import html5lib
import pytest
from PIL import Image
from playwright.sync_api import Page

from lessonpress.outlets.letters import letter as letters
from lessonpress.press.letters import MailOptions, write_letters
from lessonpress.press.progress import Silent
from lessonpress.records import UsageError
from tests.conftest import Rewrite

URL = "https://notebook.example"
MAIL = """
mail:
  from: Saltmarsh Studio <letters@notes.example>
  footer: Dune Road 1, *Marram*
  unsubscribe: https://notes.example/leave
"""
TABLE = f"\n|{'measure|' * 5}\n|{'---|' * 5}\n|{'4.1 in ± 0.7 away from the target|' * 5}\n"
NUMBER = re.compile(r"\d+(?:\.\d+)?(?: in|°| mph)? ± \d+(?:\.\d+)?")


@pytest.fixture(scope="module")
def root(drawn_site: Path, pressed_site: Path, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A site with an address; its cache is full. With it a lesson that no list has, and a draft."""
    copied = Path(shutil.copytree(drawn_site, tmp_path_factory.mktemp("letters") / "notebook"))
    with (copied / "site.yaml").open("a", encoding="utf-8") as file:
        file.write(MAIL)
    for name, day, more in (
        ("private", "2026-11-02", "listed: false"),
        ("unready", "2026-11-02", "draft: true"),
        ("later", "2999-11-02", ""),
        ("addressed", "2026-11-02", "for: Marina\naddress: q7m4zr9xw2kb8tnp3vhc6yjd5f"),
    ):
        head = f"---\ntitle: For one\ndate: {day}\n{more}\n---\n\n"
        text = f"{head}Words & *more*. ![The bag on its stand, seen from face on.](bag.png)\n{TABLE}"
        (copied / "lessons" / f"{name}.md").write_text(text, encoding="utf-8")
    Image.new("RGB", (900, 600), "green").save(copied / "lessons" / "bag.png")
    card = "source: {kind: own, credit: Marram}\npeople: []\n"
    (copied / "lessons" / "bag.png.yaml").write_text(card, encoding="utf-8")
    return copied


def written(root: Path, *names: str, **options: bool) -> Path:
    done = write_letters(root, names, MailOptions(**options), Silent())
    assert not done.problems.errors, done.problems.errors
    return done.folders[-1]


@pytest.fixture(scope="module")
def attached(root: Path) -> Path:
    return Path(shutil.copytree(written(root, "pelvis", attach=True), root.parent / "attached"))


@pytest.fixture(scope="module")
def hosted(root: Path) -> Path:
    return Path(shutil.copytree(written(root, "pelvis"), root.parent / "hosted"))


@pytest.fixture(scope="module")
def draft(attached: Path) -> EmailMessage:
    read = email.message_from_bytes((attached / "letter.eml").read_bytes(), policy=email.policy.strict)
    assert isinstance(read, EmailMessage)
    return read


@pytest.fixture(scope="module")
def tabled(root: Path) -> Path:
    """A letter with a wide table and a picture of its author's own."""
    return Path(shutil.copytree(written(root, "private", unlisted=True), root.parent / "tabled"))


def html_of(folder: Path) -> Any:
    text = (folder / "letter.html").read_text(encoding="utf-8")
    return html5lib.HTMLParser(strict=True, namespaceHTMLElements=False).parse(text)


def test_the_draft_has_its_words_twice_and_its_pictures_beside_the_html(draft: EmailMessage) -> None:
    """RFC 2046, 5.1.4: the plainest alternative comes first; RFC 2387: the related begin with their root."""
    kinds = [part.get_content_type() for part in draft.walk()]
    pictures = kinds.count("image/png")
    assert kinds == [
        "multipart/alternative",
        "text/plain",
        "multipart/related",
        "text/html",
        *["image/png"] * pictures,
    ]
    assert pictures > 1
    assert not [defect for part in draft.walk() for defect in part.defects]


def test_its_head_is_that_of_an_unsent_message(draft: EmailMessage) -> None:
    assert draft["Subject"] == "The pelvis travels"
    assert (draft["From"], draft["To"]) == ("Saltmarsh Studio <letters@notes.example>", None)
    assert draft["Date"].datetime.isoformat() == "2026-11-23T00:00:00+00:00"
    assert (draft["X-Unsent"], draft["List-Unsubscribe"]) == ("1", "<https://notes.example/leave>")


def test_every_attached_picture_is_shown_and_every_one_shown_is_attached(draft: EmailMessage) -> None:
    html = draft.get_body(("html",))
    assert html is not None
    shown = {f"<{source}>" for source in re.findall(r'src="cid:([^"]+)"', html.get_content())}
    ids = [part["Content-ID"] for part in draft.walk() if part.get_content_maintype() == "image"]
    assert shown == set(ids) and len(ids) == len(shown)
    assert 'src="http' not in html.get_content()


def test_its_lines_are_short_and_plain(attached: Path) -> None:
    """RFC 5322, 2.1.1: no line over 998 characters, CRLF at its end; without an extension, US-ASCII."""
    message = (attached / "letter.eml").read_bytes()
    assert message.isascii()
    assert max(len(line) for line in message.split(b"\r\n")) <= 998
    assert b"\n" not in message.replace(b"\r\n", b"")


def test_another_parser_reads_the_same(attached: Path, draft: EmailMessage) -> None:
    parser = pytest.importorskip("fast_mail_parser")
    read = parser.parse_email((attached / "letter.eml").read_bytes())
    assert read.subject == draft["Subject"]
    (plain,), (html,) = read.text_plain, read.text_html
    assert plain.replace("\r\n", "\n") == (attached / "letter.txt").read_text(encoding="utf-8")
    body = draft.get_body(("html",))
    assert body is not None
    assert html.replace("\r\n", "\n") == body.get_content().replace("\r\n", "\n")
    pictures = [part for part in draft.walk() if part.get_content_maintype() == "image"]
    assert [one.content for one in read.attachments] == [part.get_content() for part in pictures]


def test_its_html_is_whole_and_stands_without_a_style_sheet(hosted: Path) -> None:
    page = html_of(hosted)
    assert len((hosted / "letter.html").read_bytes()) < 100_000
    for table in page.iter("table"):
        assert table.get("role") == "presentation" or "numbers" in (table.get("class") or "")
    assert all("style" in one.attrib for kind in ("body", "h1", "p", "img") for one in page.iter(kind))
    sheet = "".join(style.text or "" for style in page.iter("style"))
    assert re.sub(r"@media[^{]*\{(?:[^{}]*\{[^{}]*\})*\s*\}", "", sheet).strip() == ""
    assert not list(page.iter("script")) and "javascript:" not in (hosted / "letter.html").read_text("utf-8")


def test_every_picture_says_what_it_shows_and_lies_where_the_site_has_it(
    hosted: Path, pressed_site: Path
) -> None:
    pictures = list(html_of(hosted).iter("img"))
    assert pictures
    for picture in pictures:
        assert len(picture.get("alt", "")) > 20 and picture.get("width") == "480"
        file = pressed_site / picture.get("src", "").removeprefix(f"{URL}/")
        with Image.open(file) as image:
            assert image.width == 1200


def test_every_link_is_absolute_and_leads_to_a_page_of_the_site(hosted: Path, pressed_site: Path) -> None:
    for link in html_of(hosted).iter("a"):
        href = link.get("href", "")
        assert href.startswith("https://"), href
        if href.startswith(f"{URL}/"):
            page = pressed_site / href.removeprefix(f"{URL}/").partition("#")[0] / "index.html"
            assert page.is_file(), href


def test_its_numbers_are_those_of_the_page(hosted: Path, pressed_site: Path) -> None:
    text = (hosted / "letter.txt").read_text(encoding="utf-8")
    page = html5lib.parse(
        (pressed_site / "lessons/pelvis/index.html").read_bytes(), namespaceHTMLElements=False
    )
    numbers = set(NUMBER.findall(" ".join(text.split())))
    assert len(numbers) > 3
    assert numbers <= set(NUMBER.findall(" ".join("".join(page.itertext()).split())))
    measures = json.loads((pressed_site / "lessons/pelvis/measures.json").read_bytes())["measures"]
    for way in {one["way"] for one in measures if one["way"]}:
        assert way in " ".join(text.split())


def test_a_letter_has_a_caution_and_the_credits_whatever_its_form(root: Path) -> None:
    for options in ({}, {"excerpt": True}, {"digest": True}):
        text = " ".join(
            (written(root, "pelvis", "kinds", **options) / "letter.txt").read_text("utf-8").split()
        )
        assert "Caution" in text and "no medical" in text and "Dune Road 1, Marram" in text
        assert re.search(r"Plates.*I.*: Drawn", text)


def test_a_digest_has_an_excerpt_and_a_link_of_each(root: Path) -> None:
    folder = written(root, "pelvis", "kinds", digest=True)
    assert folder.name == "digest-2026-11-23"
    page = html_of(folder)
    assert len(list(page.iter("img"))) == 2
    links = {link.get("href") for link in page.iter("a")}
    assert {f"{URL}/lessons/pelvis/", f"{URL}/lessons/kinds/"} <= links


def test_the_same_lesson_makes_the_same_letter(root: Path, attached: Path) -> None:
    again = written(root, "pelvis", attach=True)
    for file in attached.rglob("*.*"):
        assert file.read_bytes() == (again / file.relative_to(attached)).read_bytes()


def test_what_is_not_for_sending_is_refused_with_the_way_out(
    root: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    for name, wanted in (
        ("private", "--unlisted"),
        ("addressed", "addressed is not listed.*--unlisted"),
        ("unready", "is a draft"),
        ("later", "until its day, 2999-11-02"),
        ("pelvi", "close to it: pelvis"),
    ):
        with pytest.raises(UsageError, match=wanted):
            written(root, name)
    assert "Words & more." in (written(root, "private", unlisted=True) / "letter.txt").read_text("utf-8")
    alone = written(root, "private", unlisted=True, attach=True)
    assert [file.name for file in (alone / "pictures").iterdir()] == ["lessons.bag.png.letter.png"]
    assert b"image/png" in (alone / "letter.eml").read_bytes()
    monkeypatch.setattr(letters, "MOST", 4000)
    with pytest.raises(UsageError, match="give --excerpt"):
        written(root, "pelvis")


def test_a_site_without_an_address_can_only_attach(own_site: Path, rewrite: Rewrite) -> None:
    rewrite(own_site / "site.yaml", f"url: {URL}/\n", "")
    with pytest.raises(UsageError, match="--attach"):
        written(own_site, "kinds")
    folder = written(own_site, "kinds", attach=True)
    for picture in html_of(folder).iter("img"):
        assert (folder / picture.get("src", "")).is_file()
    assert not [link for link in html_of(folder).iter("a") if link.get("href")]


@pytest.mark.parametrize("width", [320, 600])
def test_it_fits_its_screen_with_pictures_and_without(
    page: Page, attached: Path, tabled: Path, width: int
) -> None:
    page.set_viewport_size({"width": width, "height": 800})
    for folder in (attached, tabled):
        for pictures in (True, False):
            page.goto((folder / "preview.html").as_uri())
            assert page.evaluate("document.documentElement.scrollWidth") <= width
            shown = page.evaluate("[...document.images].map(one => one.naturalWidth)")
            assert shown and (all(shown) if pictures else not any(shown))
            page.route("**/pictures/*", lambda route: route.abort())
        page.unroute_all()
