"""A lesson for one person lies at an address that cannot be guessed, and nothing leads there."""

from __future__ import annotations

import gzip
import re
from pathlib import Path

import pytest

from lessonpress.press.progress import Silent
from lessonpress.press.run import Pressed, press
from tests.conftest import Rewrite

ADDRESS = "q7m4zr9xw2kb8tnp3vhc6yjd5f"
FOR = f"for: Marina\naddress: {ADDRESS}\n"


def pressed(site: Path) -> tuple[Pressed, Path]:
    return press(site, site / "build" / "site", Silent()), site / "build" / "site"


def test_its_files_lie_at_its_address_and_nothing_else_names_them(own_site: Path, rewrite: Rewrite) -> None:
    """The drawn site's lesson of the pelvis, with its diagrams, its loop and its data."""
    _, before = pressed(own_site)
    names = {path.name for path in (before / "lessons" / "pelvis").iterdir()} - {
        "found.json"
    }  # for searching
    rewrite(own_site / "lessons" / "pelvis.md", "\ndate:", f"\n{FOR}date:")
    done, out = pressed(own_site)
    assert done.summary is not None, done.problems.errors
    assert done.notes.private == (("lessons/pelvis.md", f"lessons/{ADDRESS}/index.html"),)
    folder = out / "lessons" / ADDRESS
    assert not (out / "lessons" / "pelvis").exists()
    for_others = {name for name in names if name.endswith((".sheet.png", ".square.png"))}
    assert for_others and {path.name for path in folder.iterdir()} == names - for_others
    page = (folder / "index.html").read_text(encoding="utf-8")
    assert '<meta name="robots" content="noindex">' in page
    assert '<meta name="referrer" content="no-referrer">' in page
    assert ">For Marina, listed nowhere<" in page
    beside = {found for found in re.findall(r'(?:href|src)="([^"#:/?]+)"', page) if found != "index.html"}
    assert beside
    assert beside <= names
    elsewhere = [path for path in out.rglob("*") if path.is_file() and not path.is_relative_to(folder)]
    words = [
        path for path in elsewhere if path.suffix not in (".webp", ".woff2", ".mp4", ".png", ".pagefind")
    ]
    said = [path.name for path in words if re.search(f"{ADDRESS}|Marina".encode(), unpacked(path))]
    assert said == []
    assert all(ADDRESS not in str(path) for path in elsewhere)


def unpacked(path: Path) -> bytes:
    """What a file says; those of the index for searching are compressed."""
    content = path.read_bytes()
    return gzip.decompress(content) if path.suffix.startswith(".pf_") else content


@pytest.fixture
def wordy(tmp_path: Path) -> Path:
    (tmp_path / "lessons").mkdir()
    (tmp_path / "site.yaml").write_text("title: Notebook\nurl: https://example.org\n", encoding="utf-8")
    return tmp_path


def write(site: Path, name: str, front: str, words: str = "Words.") -> None:
    text = f"---\ntitle: {name}\ndate: 2026-01-02\n{front}---\n\n{words}\n"
    (site / "lessons" / f"{name}.md").write_text(text, encoding="utf-8")


def test_without_an_address_one_is_offered_that_then_does(wordy: Path) -> None:
    write(wordy, "one", "for: Marina\n")
    done, out = pressed(wordy)
    (problem,) = done.problems.errors
    assert str(problem.location) == "lessons/one.md:4:6"
    assert "its address can be guessed" in problem.wrong
    offered = re.search(r"`(address: [a-z0-9]{26})`", problem.right)
    assert offered is not None
    write(wordy, "one", f"for: Marina\n{offered[1]}\n")
    done, _ = pressed(wordy)
    assert done.problems.collected == []
    assert [path.name for path in (out / "lessons").iterdir()] == [offered[1].removeprefix("address: ")]


@pytest.mark.parametrize(
    ("front", "words", "wrong"),
    [
        ("for: Marina\naddress: marina\n", "Words.", "`marina` could be guessed"),
        (f"for: Marina\naddress: {'ab' * 13}\n", "Words.", f"`{'ab' * 13}` could be guessed"),
        (f"{FOR}former: [old]\n", "Words.", "an earlier path would lead to a lesson for one person"),
        (f"address: {ADDRESS}\n", "Words.", "an address goes with a lesson for one person"),
        ("", "See [it](secret.md).", "this links to `secret.md`, which is for one person alone"),
    ],
)
def test_what_would_give_it_away_is_an_error(wordy: Path, front: str, words: str, wrong: str) -> None:
    write(wordy, "secret", f"for: Another\naddress: {ADDRESS[::-1]}\n")
    write(wordy, "one", front, words)
    done, _ = pressed(wordy)
    assert [problem.wrong for problem in done.problems.errors] == [wrong]
