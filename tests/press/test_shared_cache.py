"""Two presses of one site at once, and a cache of another version: nothing wrong comes out."""

from __future__ import annotations

import os
import shutil
from pathlib import Path

import pytest
from PIL import Image

from lessonpress.press import cache
from lessonpress.press.progress import Silent
from lessonpress.press.run import press
from tests.press.conftest import files


@pytest.fixture
def root(tmp_path: Path) -> Path:
    """A site of words and a picture, never pressed."""
    root = tmp_path / "notebook"
    (root / "lessons").mkdir(parents=True)
    (root / "site.yaml").write_text("title: Notebook\nurl: https://example.org\n", encoding="utf-8")
    for name in "abc":
        text = f"---\ntitle: {name}\ndate: 2026-11-02\n---\n\nWords. ![A bag.](bag.png)\n"
        (root / "lessons" / f"{name}.md").write_text(text, encoding="utf-8")
    Image.new("RGB", (60, 40), "olive").save(root / "lessons/bag.png")
    (root / "lessons/bag.png.yaml").write_text("source: {kind: own}\npeople: []\n", encoding="utf-8")
    return root


@pytest.mark.skipif(not hasattr(os, "fork"), reason="needs fork")
def test_two_presses_of_one_site_at_once_are_both_right(root: Path, tmp_path: Path) -> None:
    """Each to a folder of its own, through one cache, and begun together."""
    alone = Path(shutil.copytree(root, tmp_path / "alone"))
    press(alone, alone / "build/site", Silent(), workers=1)
    begin, begun = os.pipe()
    outs = [tmp_path / "one", tmp_path / "two"]
    running = [_pressing(root, out, begin, begun) for out in outs]
    os.close(begin)
    os.close(begun)  # the last writer: now both go
    assert [os.waitstatus_to_exitcode(os.waitpid(one, 0)[1]) for one in running] == [0, 0]
    assert files(outs[0]) == files(outs[1]) == files(alone / "build/site")


def _pressing(root: Path, out: Path, begin: int, begun: int) -> int:
    """A process that presses as soon as no process can write into the pipe any more."""
    process = os.fork()
    if process:
        return process
    code = 1
    try:
        os.close(begun)
        os.read(begin, 1)
        code = 0 if press(root, out, Silent(), workers=1).summary is not None else 1
    finally:
        os._exit(code)


def test_what_another_version_kept_is_not_believed(
    root: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    out = root / "build/site"
    press(root, out, Silent(), workers=1)
    right = files(out)
    with monkeypatch.context() as before:
        before.setattr(cache, "__version__", "0.0.1")
        before.setattr("lessonpress.press.stills.LETTER_WIDTH", 20)
        shutil.rmtree(root / "build")
        press(root, out, Silent(), workers=1)
        assert files(out) != right
    done = press(root, out, Silent(), workers=1)
    assert done.summary is not None and files(out) == right
