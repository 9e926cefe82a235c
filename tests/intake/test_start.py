"""A started site presses at once, and nothing is ever overwritten."""

from __future__ import annotations

import hashlib
from pathlib import Path

import pytest

from lessonpress.intake.start import start_site
from lessonpress.manuscript import read_site
from lessonpress.press.progress import Silent
from lessonpress.press.run import press
from lessonpress.records.fault import UsageError


def test_the_starter_presses_at_once_and_without_a_warning(tmp_path: Path) -> None:
    start_site(tmp_path / "notebook")
    done = press(tmp_path / "notebook", tmp_path / "site", Silent())
    assert done.summary is not None, done.problems.errors
    assert done.problems.collected == []
    assert done.summary.counts.measures >= 3
    assert done.summary.counts.refused == 0


def test_an_empty_folder_is_used(tmp_path: Path) -> None:
    start_site(tmp_path)
    assert (tmp_path / "site.yaml").is_file()


@pytest.mark.parametrize("name", ["site.yaml", ".hidden", "clips"])
def test_a_folder_with_anything_in_it_is_left_alone(tmp_path: Path, name: str) -> None:
    (tmp_path / name).write_text("mine", encoding="utf-8")
    with pytest.raises(UsageError, match="not empty"):
        start_site(tmp_path)
    assert [path.name for path in tmp_path.iterdir()] == [name]
    assert (tmp_path / name).read_text(encoding="utf-8") == "mine"


def test_a_file_is_no_folder(tmp_path: Path) -> None:
    (tmp_path / "notebook").write_text("mine", encoding="utf-8")
    with pytest.raises(UsageError, match="is a file"):
        start_site(tmp_path / "notebook")


def test_the_starter_says_what_it_is_made_of(tmp_path: Path) -> None:
    """Drawn and invented, no one's footage; the card's fingerprint is the video's own SHA-256."""
    start_site(tmp_path)
    site, problems = read_site(tmp_path)
    assert site is not None
    assert not problems.collected
    (clip,) = site.clips.values()
    assert clip.card is not None and clip.video is not None
    assert clip.card.people == ()
    assert clip.card.fingerprint == hashlib.sha256(clip.video.read_bytes()).hexdigest()
    assert "invented" in site.lessons[0].body
