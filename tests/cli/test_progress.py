"""What a terminal shows of work under way, and that a desk opens in a browser where that is wanted."""

from __future__ import annotations

from contextlib import ExitStack
from pathlib import Path

import click
import pytest

from lessonpress.cli.progress import _Bar
from tests.cli.conftest import Ask


def test_a_stages_bar_is_as_far_as_its_steps_and_the_next_one_begins_anew() -> None:
    with ExitStack() as stack:
        bar = _Bar(stack)
        bar.begin("taking pictures", 5)
        bar.step()
        bar.step(3)
        assert bar._bars is not None
        assert [(task.description, task.completed) for task in bar._bars.tasks] == [("taking pictures", 4)]
        bar.begin("making loops", 2)
        assert [(task.description, task.completed) for task in bar._bars.tasks] == [("making loops", 0)]


@pytest.mark.parametrize(("word", "opened"), [("--open", ["http://127.0.0.1:9"]), ("--no-open", [])])
def test_a_desk_opens_the_browser_unless_asked_not_to(
    word: str, opened: list[str], ask: Ask, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    (tmp_path / "site.yaml").write_text("title: Notebook\n", encoding="utf-8")
    asked: list[str] = []
    monkeypatch.setattr(click, "launch", asked.append)
    monkeypatch.setattr(
        "lessonpress.desk.http.serve.serve", lambda root, port, told, own_themes: told("http://127.0.0.1:9")
    )
    code, out, _ = ask("desk", tmp_path, word)
    assert (code, out) == (0, "The desk is open at http://127.0.0.1:9\n")
    assert asked == opened
