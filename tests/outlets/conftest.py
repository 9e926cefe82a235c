"""A site of words alone, read as any other."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest

from lessonpress.manuscript import read_site
from lessonpress.manuscript.site.site import Site

_LESSON = """\
---
title: "{title}"
date: {date}
summary: "{summary}"
{more}
---

Words.
"""


def _lesson(root: Path, name: str, title: str, date: str, summary: str = "In short.", more: str = "") -> None:
    text = _LESSON.format(title=title, date=date, summary=summary, more=more)
    (root / "lessons" / f"{name}.md").write_text(text, encoding="utf-8")


@pytest.fixture
def wordy_site(tmp_path: Path) -> Callable[[str], Site]:
    """Gives the site as read, its address as asked for ("" for none)."""

    def make(url: str) -> Site:
        (tmp_path / "lessons").mkdir()
        (tmp_path / "pages").mkdir()
        written = "title: Strandläufer & Söhne\nauthor: 佐藤\nlanguage: de\n" + (
            f"url: {url}\n" if url else ""
        )
        (tmp_path / "site.yaml").write_text(written, encoding="utf-8")
        (tmp_path / "pages" / "about.md").write_text("---\ntitle: About\n---\n\nWe.\n", encoding="utf-8")
        _lesson(tmp_path, "first", "Hüfte < Nabel", "2026-11-09", more="topics: [Hüfte, pelvis]")
        _lesson(tmp_path, "second", "Knee & toe", "2026-11-16", more="updated: 2026-11-20\nauthor: Guest")
        _lesson(tmp_path, "hidden", "Not listed", "2026-11-17", more="listed: false")
        site, problems = read_site(tmp_path)
        assert site is not None, problems.collected
        assert not problems.errors, problems.collected
        return site

    return make
