"""A template is compiled once in a process, and anew where its text is another."""

from __future__ import annotations

import os
from pathlib import Path

import pytest
from jinja2 import Environment, FileSystemLoader

from lessonpress.pages.compiled import Compiled


def rendered(folder: Path, kept: Compiled) -> str:
    """By an environment of its own, as another press has."""
    return Environment(loader=FileSystemLoader(folder), bytecode_cache=kept).get_template("a.html").render()


def test_the_same_text_is_compiled_once_and_another_one_anew(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    compiled: list[object] = []
    compile_one = Environment._compile
    monkeypatch.setattr(
        Environment, "_compile", lambda *given: (compiled.append(given), compile_one(*given))[1]
    )
    place, kept = tmp_path / "a.html", Compiled()
    place.write_text("one", encoding="utf-8")
    assert [rendered(tmp_path, kept) for _ in range(2)] == ["one", "one"]
    assert len(compiled) == 1
    stood = place.stat()
    place.write_text("two", encoding="utf-8")
    os.utime(place, ns=(stood.st_atime_ns, stood.st_mtime_ns))
    assert rendered(tmp_path, kept) == "two"
    assert len(compiled) == 2


def test_templates_of_one_name_in_two_folders_are_two(tmp_path: Path) -> None:
    kept = Compiled()
    for name in ("one", "two"):
        (tmp_path / name).mkdir()
        (tmp_path / name / "a.html").write_text(name, encoding="utf-8")
    assert [rendered(tmp_path / name, kept) for name in ("one", "two")] == ["one", "two"]
