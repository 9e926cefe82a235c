"""The desk's own pages as text."""

from __future__ import annotations

from pathlib import Path

from lessonpress.desk.http.endpoints.pages import PAGES

WIDEST = 110  # characters, as in Python: the formatter breaks no comment and no text


def test_lines_of_javascript_fit_a_screen() -> None:
    wide = [
        f"{script.name}:{number}"
        for script in sorted(Path(PAGES).glob("*.js"))
        for number, line in enumerate(script.read_text(encoding="utf-8").splitlines(), 1)
        if len(line) > WIDEST
    ]
    assert wide == []
