"""A format of standalone drawings is one module and one row: with that its files are made and linked."""

from __future__ import annotations

from pathlib import Path
from types import SimpleNamespace

import pytest

from lessonpress.drawing import FORMATS
from lessonpress.outlets.diagrams import diagrams_of
from lessonpress.press.cache import Cache
from lessonpress.press.diagrams import draw
from lessonpress.press.progress import Silent
from lessonpress.press.run import press
from tests.pages import factory
from tests.pages.sites import chart_lesson
from tests.press import plain

LESSON = """\
---
title: Once more
date: 2026-11-23
clip: dune-face-on
---

```strip
id: sequence
frames: [setup, impact]
draw:
  - vertical: navel
```
"""


def _row(monkeypatch: pytest.MonkeyPatch, **changed: object) -> None:
    assert isinstance(FORMATS, dict)
    one = SimpleNamespace(**{name: getattr(plain, name) for name in dir(plain) if name[:2] != "__"})
    one.__dict__.update(changed)
    monkeypatch.setitem(FORMATS, plain.SUFFIX, one)


def test_a_new_format_is_pressed_and_linked(own_site: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    _row(monkeypatch)
    (own_site / "lessons" / "again.md").write_text(LESSON, encoding="utf-8")
    done = press(own_site, own_site / "out", Silent())
    assert done.summary is not None, done.problems.errors
    folder = own_site / "out" / "lessons" / "again"
    assert (folder / "sequence-2.txt").read_text("utf-8") == "Once more: Plate I · Impact\n"
    page = (folder / "index.html").read_text("utf-8")
    assert page.count('href="sequence-1.txt">Text</a>') == page.count('href="sequence-2.txt">Text</a>') == 1
    assert (folder / "sequence-2.png").is_file() and (folder / "sequence-2.svg").is_file()


@pytest.mark.parametrize("slow", [False, True])
def test_only_a_slow_format_is_kept(slow: bool, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    _row(monkeypatch, SLOW=slow)
    site = factory.bound(url=None).site
    made = diagrams_of(chart_lesson(), site, "Plate", lambda panel: Path(), lambda day: str(day))
    (drawing,) = draw(made, Cache(tmp_path))
    path = "lessons/autumn/over-time.txt"
    kept = {one.path: one.entry.content() for one in drawing.kept}
    assert (path in kept, path in drawing.made) == (slow, not slow)
    assert {**kept, **drawing.made}[path].endswith("Plate I · Tilt of the line from navel to C7\n".encode())


def test_a_kept_file_made_in_another_manner_is_not_used(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    site = factory.bound(url=None).site
    made = list(diagrams_of(chart_lesson(), site, "Plate", lambda panel: Path(), lambda day: str(day)))
    entries = set()
    for manner in ((1.0,), (2.0,)):
        _row(monkeypatch, SLOW=True, MANNER=manner)
        (drawing,) = draw(made, Cache(tmp_path))
        entries.update(one.entry.name for one in drawing.kept if one.suffix == plain.SUFFIX)
    assert len(entries) == 2
