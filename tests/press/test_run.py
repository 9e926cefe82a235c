"""A site is pressed whole or not at all."""

from __future__ import annotations

import errno
import hashlib
import json
from dataclasses import dataclass, field
from pathlib import Path

import av
import numpy as np
import pytest
from numpy.typing import NDArray
from PIL import Image

from lessonpress.press import reading, run
from lessonpress.press.progress import Silent
from lessonpress.press.run import Pressed, press
from lessonpress.records.fault import UsageError
from tests.conftest import Rewrite


@dataclass
class _Stages:
    """A progress that remembers which stages there were."""

    begun: list[str] = field(default_factory=list)

    def begin(self, stage: str, total: int | None = None) -> None:
        self.begun.append(stage)

    def step(self, count: int = 1) -> None:
        pass


def _files(folder: Path) -> dict[str, bytes]:
    return {str(path.relative_to(folder)): path.read_bytes() for path in folder.rglob("*") if path.is_file()}


def _well(pressed: Pressed) -> None:
    assert pressed.summary is not None, pressed.problems.errors


def test_the_folder_holds_what_the_formats_promise(pressed_site: Path) -> None:
    files = _files(pressed_site)
    for name in ("pelvis", "kinds"):
        for file in ("index.html", "measures.json", "measures.csv"):
            assert f"lessons/{name}/{file}" in files
    assert {"index.html", "press.json", "feed.xml", "feed.json", "sitemap.xml", "robots.txt"} <= files.keys()
    for diagram in ("lessons/pelvis/setup", "lessons/pelvis/sequence-3", "lessons/kinds/the-tilt"):
        assert files[f"{diagram}.svg"].startswith(b"<?xml")
        assert files[f"{diagram}.png"].startswith(b"\x89PNG\r\n\x1a\n")


def test_press_json_holds_the_hash_of_every_other_file(pressed_site: Path) -> None:
    """FIPS 180-4 SHA-256, by the standard library."""
    files = _files(pressed_site)
    receipt = json.loads(files.pop("press.json"))
    assert receipt["files"] == {path: hashlib.sha256(content).hexdigest() for path, content in files.items()}


def test_pressing_again_gives_the_same_bytes(drawn_site: Path, pressed_site: Path, tmp_path: Path) -> None:
    _well(press(drawn_site, tmp_path / "again", Silent()))
    assert _files(tmp_path / "again") == _files(pressed_site)


def test_what_is_kept_is_not_made_again(drawn_site: Path, pressed_site: Path, tmp_path: Path) -> None:
    stages = _Stages()
    _well(press(drawn_site, tmp_path / "again", stages))
    assert stages.begun == ["reading the site", "measuring", "pressing pages"]


def test_a_deleted_and_a_damaged_cache_are_made_anew(
    own_site: Path, pressed_site: Path, tmp_path: Path
) -> None:
    _well(press(own_site, tmp_path / "site", Silent()))
    cache = own_site / "build" / "cache"
    for index in (cache / "indexes").rglob("*.json"):
        index.write_text(index.read_text(encoding="utf-8")[:50], encoding="utf-8")
    for picture in (cache / "pictures").rglob("*.webp"):
        picture.unlink()
    stages = _Stages()
    _well(press(own_site, tmp_path / "site", stages))
    assert {"reading videos", "taking pictures"} <= set(stages.begun)
    assert _files(tmp_path / "site") == _files(pressed_site)


def test_every_mistake_is_told_in_one_run_and_the_last_site_stands(
    own_site: Path, tmp_path: Path, rewrite: Rewrite
) -> None:
    out = tmp_path / "site"
    _well(press(own_site, out, Silent()))
    before = _files(out)
    rewrite(own_site / "lessons" / "pelvis.md", "since: setup\n    as: navel-back", "sinse: setup")
    rewrite(own_site / "lessons" / "kinds.md", "- tilt: [navel, c7]", "- tilt: [navle, c7]")
    rewrite(own_site / "clips" / "dune-face-on" / "clip.yaml", "view: face-on", "view: faceon")
    rewrite(own_site / "site.yaml", "units: in", "units: inch")
    pressed = press(own_site, out, Silent())
    assert pressed.summary is None
    told = {problem.place.path for problem in pressed.problems.errors}
    assert {"lessons/pelvis.md", "clips/dune-face-on/clip.yaml", "site.yaml"} <= told
    assert _files(out) == before


@pytest.mark.parametrize("after", [0, 1, 20])
def test_a_full_disk_leaves_the_last_site_and_no_litter(
    own_site: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, after: int
) -> None:
    out = tmp_path / "host" / "site"
    _well(press(own_site, out, Silent()))
    before = _files(out)
    put = run._put
    left = iter(range(after))

    def filling(aside: Path, path: str, content: bytes) -> None:
        if next(left, None) is None:
            raise OSError(errno.ENOSPC, "No space left on device", path)
        put(aside, path, content)

    monkeypatch.setattr(run, "_put", filling)
    with pytest.raises(OSError, match="No space left"):
        press(own_site, out, Silent())
    assert _files(out) == before
    assert [path.name for path in out.parent.iterdir()] == ["site"]


def test_a_folder_of_somebody_elses_is_refused_before_anything_is_read(
    drawn_site: Path, tmp_path: Path
) -> None:
    (tmp_path / "thesis.txt").write_text("three years", encoding="utf-8")
    stages = _Stages()
    with pytest.raises(UsageError, match="left alone"):
        press(drawn_site, tmp_path, stages)
    assert stages.begun == []
    assert _files(tmp_path) == {"thesis.txt": b"three years"}


def test_a_page_that_is_gone_from_the_site_is_gone_from_the_output(own_site: Path, tmp_path: Path) -> None:
    out = tmp_path / "site"
    _well(press(own_site, out, Silent()))
    (own_site / "lessons" / "kinds.md").unlink()
    _well(press(own_site, out, Silent()))
    assert not (out / "lessons" / "kinds").exists()
    assert (out / "lessons" / "pelvis" / "index.html").exists()


def test_a_video_that_changed_is_read_again(own_site: Path, tmp_path: Path) -> None:
    """Its pictures come from the new file, not from what was kept of the old one."""
    out = tmp_path / "site"
    (own_site / "lessons" / "kinds.md").unlink()
    _well(press(own_site, out, Silent()))
    before = _files(out)
    clips = own_site / "clips"
    other = clips / "shingle-face-on" / "shingle-face-on.mp4"
    (clips / "dune-face-on" / "dune-face-on.mp4").write_bytes(other.read_bytes())
    stages = _Stages()
    press(own_site, out, stages)
    assert {"reading videos", "taking pictures"} <= set(stages.begun)
    assert {path for path in _files(out) if path.endswith(".webp")}.isdisjoint(before)


def test_a_video_that_cannot_be_read_is_told_at_its_card(own_site: Path, tmp_path: Path) -> None:
    video = own_site / "clips" / "dune-face-on" / "dune-face-on.mp4"
    video.write_bytes(video.read_bytes()[:3000])
    pressed = press(own_site, tmp_path / "site", Silent())
    assert pressed.summary is None
    (error,) = [one for one in pressed.problems.errors if one.place.path == "clips/dune-face-on/clip.yaml"]
    assert (error.place.line, error.place.column) == (1, 8)
    assert error.right
    assert not (tmp_path / "site").exists()


def test_an_obscured_mark_is_blurred_in_everything_published(
    own_site: Path, pressed_site: Path, tmp_path: Path, rewrite: Rewrite
) -> None:
    """Round the head what is published differs from what it was without; at the feet it does not."""
    rewrite(own_site / "clips" / "dune-face-on" / "clip.yaml", "people: []", "people: []\nobscure: [head]")
    out = tmp_path / "site"
    _well(press(own_site, out, Silent()))
    plain, blurred = _widest(pressed_site), _widest(out)
    assert len(blurred) == len(plain) > 0
    for before, after in zip(plain, blurred, strict=True):
        difference = np.abs(before.astype(int) - after.astype(int)).max(axis=2)
        height = len(difference)
        assert difference[: height // 3].max() > 40
        assert difference[height // 2 :].max() < 25
    for diagram in ("setup", "top"):
        for suffix in ("svg", "png"):
            path = f"lessons/pelvis/{diagram}.{suffix}"
            assert (out / path).read_bytes() != (pressed_site / path).read_bytes()


def _widest(site: Path) -> list[NDArray[np.uint8]]:
    """The widest picture of each frame of the site, by frame."""
    found: dict[int, Path] = {}
    for path in (site / "pictures").rglob("*.webp"):
        frame, width = int(path.stem.split("-")[0]), int(path.stem.split("-")[2])
        if frame not in found or width > int(found[frame].stem.split("-")[2]):
            found[frame] = path
    return [np.asarray(Image.open(path).convert("RGB")) for _, path in sorted(found.items())]


def test_a_clip_that_drops_out_without_a_word_stops_the_press(
    own_site: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Whatever the cause, readers are never given a figure's source, or braces, in place of a figure."""
    out = tmp_path / "site"
    _well(press(own_site, out, Silent()))
    before = _files(out)
    monkeypatch.setattr(reading, "studies_of", lambda *_: {})
    pressed = press(own_site, out, Silent())
    assert pressed.summary is None
    told = {(one.place.path, one.wrong) for one in pressed.problems.errors}
    assert ("lessons/pelvis.md", "this figure could not be made") in told
    assert any("nothing to print for" in wrong for _, wrong in told)
    assert _files(out) == before


def test_a_video_on_a_drive_that_is_away_leaves_the_last_site(own_site: Path, tmp_path: Path) -> None:
    out = tmp_path / "site"
    _well(press(own_site, out, Silent()))
    before = _files(out)
    video = own_site / "clips" / "dune-face-on" / "dune-face-on.mp4"
    video.unlink()
    video.symlink_to("/absent/drive/dune-face-on.mp4")
    pressed = press(own_site, out, Silent())
    assert pressed.summary is None
    (error,) = pressed.problems.errors
    assert error.place.path == "clips/dune-face-on/clip.yaml"
    assert _files(out) == before


def test_a_damaged_picture_is_refused_where_a_lesson_wants_it(own_site: Path, tmp_path: Path) -> None:
    """Told at the mark, the event or the frame that names it, with the last good site left."""
    out = tmp_path / "site"
    _well(press(own_site, out, Silent()))
    before = _files(out)
    video = own_site / "clips" / "dune-face-on" / "dune-face-on.mp4"
    content = bytearray(video.read_bytes())
    with av.open(str(video)) as container:
        _, second, *_ = (packet for packet in container.demux(video=0) if packet.size)
    assert second.pos is not None
    content[second.pos + 6 : second.pos + second.size] = bytes(second.size - 6)
    video.write_bytes(content)
    pressed = press(own_site, out, Silent())
    assert pressed.summary is None
    assert any("damaged" in one.wrong and one.right for one in pressed.problems.errors)
    assert _files(out) == before
