"""What the program prints is plain English: a short list of mannerisms that it is kept free of."""

from __future__ import annotations

import ast
import re
from collections.abc import Iterator
from pathlib import Path

import click

from lessonpress.cli import lessonpress

ROOT = Path(__file__).parents[2]
MANNERISMS = re.compile(
    r"\b(?:(?:is|are) due\b(?! for)|is no difference|whoever|nobody|telephone|leaves with|answers with"
    r"|unless told|stands? (?:in line|where|beside `)|put right on|data base)",
    re.IGNORECASE,
)


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


def test_the_list_knows_one_when_it_sees_it() -> None:
    assert MANNERISMS.search("a number is due here, not `x`")
    assert not MANNERISMS.search("a number is expected here, not `x`")
