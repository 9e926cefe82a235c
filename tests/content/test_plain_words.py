"""What the program prints is plain English: a short list of mannerisms that it is kept free of."""

from __future__ import annotations

import ast
import io
import re
import tokenize
from collections.abc import Iterator
from pathlib import Path

import click
import pytest

from lessonpress.cli.commands import lessonpress

ROOT = Path(__file__).parents[2]
MANNERISMS = re.compile(
    r"\b(?:(?:is|are) due\b(?! for)|is no difference|whoever|nobody|telephone|messenger|data base"
    r"|leaves with|answers with|(?:is|are|was|were|be|been|unless) told\b(?! apart)|still stands"
    r"|stands? (?:in|where|here|at|after|below|beside|too)\b|cannot stand|put right|figures are written"
    r"|` is no |mend (?:it|one|the|them)\b|longer way\b|hangs or stands true)",
    re.IGNORECASE,
)
WORST = re.compile(r"\b(?:whoever|nobody|leaves with|(?:is|are) told\b(?! apart))", re.IGNORECASE)
NOTES = re.compile(  # a golfer may stand, and a parameter be called told
    WORST.pattern
    + r"|\b(?:(?:was|were|be|been|unless|once|already) told\b(?! apart)|is due\b|owed|still wants?\b"
    r"|(?:stands?|stood) (?:for|in|where|here|there|at|after|before|below|beside|over|under|apart|together)\b"
    r"|hands? (?:it|them) (?:back|on|over)|handed (?:out|over|to))",
    re.IGNORECASE,
)


def _notes(file: Path) -> Iterator[tuple[int, str]]:
    """Line and text of each docstring and comment of a module, and of each test's name in words."""
    source = file.read_text(encoding="utf-8")
    for node in ast.walk(ast.parse(source)):
        if isinstance(node, ast.FunctionDef) and node.name.startswith("test_"):
            yield node.lineno, node.name.replace("_", " ")
        if (
            isinstance(node, ast.Expr)
            and isinstance(node.value, ast.Constant)
            and isinstance(node.value.value, str)
        ):
            yield node.lineno, node.value.value
    for token in tokenize.generate_tokens(io.StringIO(source).readline):
        if token.type == tokenize.COMMENT:
            yield token.start[0], token.string


def _sentences(file: Path) -> Iterator[tuple[int, str]]:
    """Line and text of each string of a module that has a space in it, its docstrings left out."""
    tree = ast.parse(file.read_text(encoding="utf-8"))
    docstrings = {
        id(node.value)
        for node in ast.walk(tree)
        if isinstance(node, ast.Expr) and isinstance(node.value, ast.Constant)
    }
    for node in ast.walk(tree):
        if isinstance(node, ast.Constant) and isinstance(node.value, str) and id(node) not in docstrings:
            yield node.lineno, node.value


def test_labels_help_and_messages_have_no_mannerisms() -> None:
    found = [
        f"{file.relative_to(ROOT)}:{line}: {text}"
        for file in sorted((ROOT / "lessonpress").rglob("*.py"))
        for line, text in _sentences(file)
        if MANNERISMS.search(text)
    ]
    assert found == []


def test_the_help_of_every_command_has_none() -> None:
    """Help is printed from docstrings, which the strings above leave out."""
    top = click.Context(lessonpress)
    told = {"": lessonpress.get_help(top)}
    for name in lessonpress.list_commands(top):
        command = lessonpress.get_command(top, name)
        assert command is not None
        told[name] = command.get_help(click.Context(command, parent=top))
    found = {
        name: seen[0] for name, text in told.items() if (seen := MANNERISMS.search(" ".join(text.split())))
    }
    assert found == {}


def test_the_words_of_the_pages_and_of_the_desk_have_none() -> None:
    files = [*(ROOT / "themes").rglob("words/*.yaml"), *(ROOT / "lessonpress/desk/pages").glob("*.js")]
    found = [
        f"{file.relative_to(ROOT)}:{line}: {text}"
        for file in sorted(files)
        for line, text in enumerate(file.read_text(encoding="utf-8").splitlines(), 1)
        if MANNERISMS.search(text) and not text.lstrip().startswith(("//", "/*", "*", "#"))
    ]
    assert found == []


def test_the_handbook_lessons_and_notes_have_none() -> None:
    files = [*(ROOT / "content/lessons").glob("*.md"), *(ROOT / "content/pages").glob("*.md")]
    files += [*(ROOT / "lessonpress/starter").rglob("*.md"), ROOT / "README.md", ROOT / "DEVELOPERS.md"]
    found = [
        f"{file.relative_to(ROOT)}:{line}: {text}"
        for file in sorted(files)
        for line, text in enumerate(file.read_text(encoding="utf-8").splitlines(), 1)
        if WORST.search(text) or re.search("telephone|data base", text)
    ]
    assert found == []


def test_docstrings_comments_and_names_of_tests_have_none() -> None:
    own = Path(__file__)
    found = [
        f"{file.relative_to(ROOT)}:{line}: {text}"
        for room in ("lessonpress", "tests", "themes")
        for file in sorted((ROOT / room).rglob("*.py"))
        if file != own
        for line, text in _notes(file)
        if NOTES.search(text)
    ]
    assert found == []


def test_the_list_knows_one_when_it_sees_it() -> None:
    assert MANNERISMS.search("a number is due here, not `x`")
    assert not MANNERISMS.search("a number is expected here, not `x`")


@pytest.mark.parametrize(
    ("mannered", "plain"),
    [
        ("The one number that stands for a lesson.", "The one number that lists show of a lesson."),
        ("None once told.", "A player who stands upright is told apart by the marks."),
        ("Waits until the page has been told.", "Waits until the page has heard."),
        ("It hands them back as a book.", "It returns them as a book, by the lead hand."),
        ("What the figures still want.", "What the figures still need."),
    ],
)
def test_notes_know_what_was_removed_and_let_the_trade_s_words_be(mannered: str, plain: str) -> None:
    assert NOTES.search(mannered)
    assert not NOTES.search(plain)


@pytest.mark.parametrize(
    ("mannered", "plain"),
    [
        ("`x` is no length", "`x` is not a length"),
        ("the line stands where it was", "the line marks where it was"),
        ("the control character stands here", "the control character is here"),
        ("this cannot stand here", "this cannot be written here"),
        ("mend one of the dates", "correct one of the dates"),
        ("it does unless told", "this is the default"),
        ("a turn that is told from none", "more than can be told apart on a phone"),
        ("the command leaves with 0", "its exit code is 0"),
    ],
)
def test_the_list_knows_what_was_removed_and_lets_plain_words_be(mannered: str, plain: str) -> None:
    assert MANNERISMS.search(mannered)
    assert not MANNERISMS.search(plain)


def test_docstrings_and_comments_are_both_read(tmp_path: Path) -> None:
    module = tmp_path / "module.py"
    module.write_text(
        '"""For whoever reads."""\n\nX = 1  # nobody\n\ndef test_a_slip_is_told(): ...\n', encoding="utf-8"
    )
    assert sorted(line for line, text in _notes(module) if NOTES.search(text)) == [1, 3, 5]
