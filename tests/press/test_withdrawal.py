"""A clip or a person withdrawn: nothing of it is left, a note says so, and it can be taken back."""

from __future__ import annotations

import shutil
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

import pytest
from PIL import Image

from lessonpress.intake import sheet_of, start_site
from lessonpress.press import withdraw
from lessonpress.press.letters import MailOptions, write_letters
from lessonpress.press.progress import Silent
from lessonpress.press.run import Pressed, press
from lessonpress.press.withdrawing import moving
from lessonpress.press.withdrawing.moving import Withdrawal, take_back
from lessonpress.records import UsageError
from tests.press.conftest import files
from tests.press.remains import Hash, hash_of, saying, showing

CLIP, PERSON = "shingle-face-on", "Marram Thrift"
ON_A_PICTURE = "Rowan Tansy"
WORDS = [CLIP, PERSON, "Shingle, face-on"]
LESSON = """\
---
title: {title}
date: 2026-11-20
{more}
---

See [the hips](first-lesson.md) and [the trunk](first-lesson.md#top).
"""
LOOP = "\n```loop\nid: round\nfrom: setup\nto: top\n```\n"
CHART = "\n```progress\nid: weeks\nmeasure: lean\nover: [first-lesson]\n```\n"


@pytest.fixture(scope="module")
def pressed(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The starter with a person on its card, pressed, with a letter and a contact sheet; for reading only."""
    root = tmp_path_factory.mktemp("withdrawal") / "notebook"
    start_site(root)
    site, card, first = (
        root / "site.yaml",
        root / f"clips/{CLIP}/clip.yaml",
        root / "lessons/first-lesson.md",
    )
    site.write_text(
        site.read_text().replace("# url: https://example.com/ ", "url: https://notebook.example #")
    )
    person = f"people:\n  - {{name: {PERSON}, consent: written}}\nfilmed_on: 2026-11-01"
    card.write_text(card.read_text().replace("people: []", person))
    text = first.read_text().replace("topics:", "former: lessons/hips\ntopics:")
    first.write_text(text + LOOP)
    (root / "lessons/other.md").write_text(LESSON.format(title="Another", more="summary: No picture."))
    (root / "lessons/bag.md").write_text("---\ntitle: A bag\ndate: 2026-11-20\n---\n![A bag.](bag.png)\n")
    Image.new("RGB", (60, 40), "olive").save(root / "lessons/bag.png")
    (root / "lessons/bag.png.yaml").write_text(
        f"source: {{kind: own}}\npeople: [{{name: {ON_A_PICTURE}, consent: spoken}}]\n"
    )
    done = press(root, root / "build/site", Silent(), workers=1)
    assert done.summary is not None, done.problems.errors
    assert write_letters(root, ["first-lesson"], MailOptions(attach=True), Silent()).folders
    sheet_of(root, CLIP, "top")
    return root


@pytest.fixture
def root(pressed: Path, tmp_path: Path) -> Path:
    return Path(shutil.copytree(pressed, tmp_path / "notebook"))


def of_author(root: Path) -> dict[str, bytes]:
    return {path: content for path, content in files(root).items() if not path.startswith("build")}


def withdrawn(root: Path, *, only_list: bool = False) -> Withdrawal:
    return withdraw(root, CLIP, None, root / "build/site", only_list=only_list)


def test_those_who_are_on_cards_are_named_nowhere_in_what_is_published(pressed: Path) -> None:
    """Neither on a clip's card nor on a picture's is leave to print a name; a credit is what does that."""
    built = pressed / "build"
    assert saying(built / "site", [PERSON, ON_A_PICTURE]) == []
    assert saying(built / "mail", [PERSON, ON_A_PICTURE]) == []


@dataclass(frozen=True)
class After:
    """The site without the clip. sought: the pictures of the clip; shown, said: where it was before."""

    root: Path
    done: Pressed
    sought: list[Hash]
    shown: list[str]
    said: list[str]


@pytest.fixture(scope="module")
def after(pressed: Path, tmp_path_factory: pytest.TempPathFactory) -> After:
    root = Path(shutil.copytree(pressed, tmp_path_factory.mktemp("after") / "notebook"))
    built = root / "build"
    sought = [hash_of(Image.open(path)) for path in (built / "site/pictures" / CLIP).glob("*.webp")]
    shown = [path.relative_to(built).as_posix() for path in showing(built, sought)]
    said = [path.relative_to(built).as_posix() for path in saying(built, WORDS)]
    withdrawn(root)
    done = press(root, built / "site", Silent(), workers=1)
    assert done.summary is not None, done.problems.errors
    return After(root, done, sought, shown, said)


def test_nothing_of_it_is_left_once_the_site_is_pressed(after: After) -> None:
    """The search found every place of it before, so that it would find what is left."""
    for place in ("top.png", "top.letter.png", "top.svg", "round-loop.mp4", "round-loop.webp"):
        assert f"site/lessons/first-lesson/{place}" in after.shown
    assert "mail/first-lesson/letter.eml" in after.shown
    for folder in ("cache/", "site/", "mail/"):
        assert any(path.startswith(folder) for path in after.shown), folder
        assert any(path.startswith(folder) for path in after.said), folder
    assert any(path.startswith("sheets/") for path in after.said)

    built = after.root / "build"
    assert showing(built, after.sought) == []
    beside = built / "site.changes.json"  # names what was removed, for those who delete it at the host
    assert saying(built, WORDS) == [beside]


def test_a_note_takes_its_place_and_links_lead_there_with_a_warning(after: After) -> None:
    site = after.root / "build/site"
    for address in ("first-lesson", "hips"):
        note = (site / "lessons" / address / "index.html").read_text(encoding="utf-8")
        assert "The lesson at this address was withdrawn." in note and "noindex" in note
    assert files(site / "lessons/first-lesson").keys() == {"index.html"}
    other = (site / "lessons/other/index.html").read_text(encoding="utf-8")
    assert 'href="../first-lesson/index.html#top"' in other
    warned = [one.wrong for one in after.done.problems.collected]
    assert warned.count("this links to `first-lesson.md`, which was withdrawn") == 2
    for listing in ("index.html", "archive/index.html", "feed.xml", "sitemap.xml", "offline.json"):
        said = (site / listing).read_text(encoding="utf-8")
        assert "The hips go farther" not in said and "<loc>https://notebook.example/lessons/f" not in said


def test_until_the_next_press_it_is_taken_back_byte_for_byte(root: Path, after: After) -> None:
    before = of_author(root)
    done = withdrawn(root)
    assert of_author(root) != before
    take_back(root, done.folder.name)
    assert of_author(root) == before
    with pytest.raises(UsageError, match="was pressed without"):
        take_back(after.root, CLIP)


def test_a_list_changes_nothing_and_names_every_place(root: Path) -> None:
    before = files(root)
    done = withdrawn(root, only_list=True)
    assert files(root) == before
    listed = {one.path: one.what for one in done.traces.published}
    expected = {
        "lessons/first-lesson/index.html": "page",
        "lessons/first-lesson/card/index.html": "card",
        "lessons/first-lesson/top.png": "diagram",
        "lessons/first-lesson/top.letter.png": "picture of letters",
        "lessons/first-lesson/round-loop.mp4": "loop",
        "lessons/hips/top.svg": "diagram",
    }
    assert expected.items() <= listed.items()
    assert "picture" in listed.values()
    assert {"index.html", "archive/index.html", "feed.xml", "lessons/other/index.html"} <= {
        *done.traces.listed
    }
    assert [one.folder.name for one in done.traces.letters] == ["first-lesson"]
    assert root / "build/cache/pictures" in done.emptied


def test_someone_on_a_picture_alone_goes_with_it_and_the_lesson_that_shows_it(root: Path) -> None:
    before = of_author(root)
    done = withdraw(root, None, "rowan  tansy", root / "build/site")
    own = {"lessons/bag.md", "lessons/bag.png", "lessons/bag.png.yaml"}
    assert set(done.reach.moved) == own and done.reach.clips == ()
    assert of_author(root).keys() & own == set()
    published = {one.path: one.what for one in done.traces.published}
    pictures = [path for path in published if "/lessons/bag" in path]
    assert {"files/lessons/bag.png", "files/lessons/bag.png.letter.png"} < set(pictures)
    assert len(pictures) == 3 and {published[path] for path in pictures} == {"picture"}
    assert published["lessons/bag/index.html"] == "page"
    take_back(root, done.folder.name)
    assert of_author(root) == before


def _stopped_after(moves: int) -> Callable[[Path, Path], None]:
    """Moves files so many times, and is interrupted at the next."""
    move, left = moving._move, iter(range(moves))

    def stopped(path: Path, target: Path) -> None:
        if next(left, None) is None:
            raise KeyboardInterrupt
        move(path, target)

    return stopped


@pytest.mark.parametrize("stop", range(3))
def test_a_picture_is_withdrawn_by_its_path_also_after_one_that_was_stopped(
    root: Path, stop: int, monkeypatch: pytest.MonkeyPatch
) -> None:
    """By its card it is found again, whatever has gone; and all of it is taken back together."""
    before = of_author(root)

    with monkeypatch.context() as patch:
        patch.setattr(moving, "_move", _stopped_after(stop))
        with pytest.raises(KeyboardInterrupt):
            withdraw(root, "lessons/bag.png", None, root / "build/site")
    monkeypatch.chdir(root / "lessons")
    done = withdraw(root, "bag.png", None, root / "build/site")
    assert done.folder == root / "withdrawn" / "bag"
    assert files(done.folder).keys() == {"lessons/bag.md", "lessons/bag.png", "lessons/bag.png.yaml"}
    assert not (root / "build/cache/pictures").exists()
    take_back(root, "bag")
    assert of_author(root) == before


@pytest.mark.parametrize("stop", range(4))
def test_one_that_was_stopped_anywhere_is_gone_on_with(
    root: Path, stop: int, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A file is at its old place or at its new one, whole; asking again ends as if nothing had happened."""
    (root / "lessons/weeks.md").write_text(LESSON.format(title="Weeks", more="summary: A chart.") + CHART)
    whole = Path(shutil.copytree(root, root.parent / "whole"))
    withdrawn(whole)
    before = of_author(root)

    with monkeypatch.context() as patch:
        patch.setattr(moving, "_move", _stopped_after(stop))
        if stop < 3:
            with pytest.raises(KeyboardInterrupt):
                withdrawn(root)
        else:
            withdrawn(root)
    folder = f"withdrawn/{CLIP}/"
    now = {path.removeprefix(folder): content for path, content in of_author(root).items()}
    assert {path: content for path, content in now.items() if path != "withdrawn.yaml"} == before
    (root / ".withdrawn.yaml.1a2b3c4d.saving").write_text("- lesso")  # as kill -9 leaves it
    if stop < 3:
        withdrawn(root)
    else:
        take_back(root, CLIP)
        withdrawn(root)
    assert of_author(root) == of_author(whole)


def test_it_concerns_lessons_that_chart_its_numbers_or_cannot_be_read(root: Path) -> None:
    (root / "lessons/weeks.md").write_text(LESSON.format(title="Weeks", more="summary: A chart.") + CHART)
    (root / "lessons/broken.md").write_text(f"---\ntitle: [\n---\n\nSee `{CLIP}`.\n")
    (root / "lessons/for-her.md").write_text(
        LESSON.format(title="For one", more=f"for: {PERSON}\naddress: q7m4zr9xw2kb8tnp3vhc6yjd5f")
    )
    (root / "pages/about.md").write_text(f"---\ntitle: About\n---\n\nThanks to\n{PERSON}.\n")
    shutil.copytree(root / "clips" / CLIP, root / "clips/again")
    done = withdraw(root, None, PERSON.lower(), root / "build/site", only_list=True)
    assert done.reach.clips == ("again", CLIP)
    names = sorted(one.name for one in done.reach.lessons)
    assert names == ["broken", "first-lesson", "for-her", "weeks"]
    assert done.traces.named == ("pages/about.md:6",)
    of_clip = withdrawn(root, only_list=True)
    assert [one.name for one in of_clip.reach.lessons] == ["weeks", "first-lesson", "broken"]
    assert of_clip.traces.alike == ("clips/again",)


@pytest.mark.parametrize(("clip", "person"), [(CLIP, None), (None, PERSON)])
def test_what_was_put_away_is_withdrawn_too(root: Path, clip: str | None, person: str | None) -> None:
    for path in (f"clips/{CLIP}", "lessons/first-lesson.md"):
        target = root / "put-away" / path
        target.parent.mkdir(parents=True, exist_ok=True)
        (root / path).rename(target)
    before = of_author(root)
    done = withdraw(root, clip, person, root / "build/site")
    left = [path for path in of_author(root) if path.startswith(("put-away", "clips", "lessons/first"))]
    assert left == [] and done.reach.clips == ()
    take_back(root, done.folder.name)
    assert of_author(root) == before


def test_a_name_that_is_nowhere_gets_those_there_are(root: Path) -> None:
    with pytest.raises(UsageError, match=f"no clip called shingle; there are: {CLIP}"):
        withdraw(root, "shingle", None, root / "build/site")
    with pytest.raises(UsageError, match=f"no card names anyone called Thrift; on cards are: {PERSON}"):
        withdraw(root, None, "Thrift", root / "build/site")
    with pytest.raises(UsageError, match="there is no picture lessons/bagg"):
        withdraw(root, "lessons/bagg.png", None, root / "build/site")
