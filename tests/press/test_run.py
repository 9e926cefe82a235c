"""A site is pressed whole or not at all."""

from __future__ import annotations

import errno
import hashlib
import json
import os
import re
import shutil
import struct
from collections.abc import Callable
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

import av
import pytest

from lessonpress.footage import FootageError
from lessonpress.press import filling, loops
from lessonpress.press.file_hashes import FileHashes
from lessonpress.press.progress import Silent
from lessonpress.press.run import Pressed, press
from lessonpress.press.steps import clips
from lessonpress.press.steps.last import FileStanding
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
    assert receipt["files"] == {
        hashlib.sha256(path.encode()).hexdigest(): hashlib.sha256(content).hexdigest()
        for path, content in files.items()
    }


def test_no_file_but_its_own_names_a_lesson_that_is_not_listed(
    own_site: Path, tmp_path: Path, rewrite: Rewrite
) -> None:
    lesson = own_site / "lessons" / "pelvis.md"
    rewrite(lesson, "\ndate:", "\nlisted: false\nformer: [an-earlier-secret]\ndate:")
    lesson.rename(lesson.with_name("a-secret.md"))
    out = tmp_path / "site"
    _well(press(own_site, out, Silent()))
    files = _files(out)
    assert "lessons/a-secret/index.html" in files
    naming = {path for path, content in files.items() if b"secret" in content}
    assert all(path.startswith(("lessons/a-secret/", "lessons/an-earlier-secret/")) for path in naming)


def test_pressing_again_gives_the_same_bytes(drawn_site: Path, pressed_site: Path, tmp_path: Path) -> None:
    _well(press(drawn_site, tmp_path / "again", Silent()))
    assert _files(tmp_path / "again") == _files(pressed_site)


def test_what_is_kept_is_not_made_again(drawn_site: Path, pressed_site: Path, tmp_path: Path) -> None:
    stages = _Stages()
    _well(press(drawn_site, tmp_path / "again", stages))
    assert stages.begun == ["reading the site", "pressing pages"]


def _flip(place: Path) -> None:
    """One bit in the middle of a file."""
    content = bytearray(place.read_bytes())
    content[len(content) // 2] ^= 1
    place.write_bytes(content)


_DAMAGES: tuple[Callable[[Path], object], ...] = (
    _flip,
    Path.unlink,
    lambda place: place.write_bytes(place.read_bytes()[:50]),
    lambda place: (place.unlink(), place.mkdir()),
    lambda place: (place.unlink(), place.symlink_to("nowhere")),
)


@pytest.mark.parametrize("first", [0, 2])
def test_a_damaged_cache_is_made_anew_and_never_published(
    own_site: Path, pressed_site: Path, tmp_path: Path, first: int
) -> None:
    """Every entry is damaged, each in another way than the one before it."""
    cache = own_site / "build" / "cache"
    entries = [place for place in cache.glob("*/*/*") if place.is_file()]
    assert {place.parents[1].name for place in entries} >= {"indexes", "studies", "pictures", "diagrams"}
    for number, place in enumerate(sorted(entries), first):
        _DAMAGES[number % len(_DAMAGES)](place)
    stages = _Stages()
    _well(press(own_site, tmp_path / "site", stages))
    assert {"reading videos", "playing videos", "taking pictures", "pressing lessons"} <= set(stages.begun)
    assert _files(tmp_path / "site") == _files(pressed_site)
    stages = _Stages()
    _well(press(own_site, tmp_path / "site", stages))
    assert stages.begun == []


def test_an_edited_index_is_not_believed(own_site: Path, pressed_site: Path, tmp_path: Path) -> None:
    """Every picture at twice its time: the speeds of the whole site would be halved."""
    times = re.compile(rb'times\\?": \[([^]]*)]')
    places = [place for shelf in ("indexes", "studies") for place in _shelf(own_site, shelf)]
    assert places
    for place in places:
        written, count = times.subn(_doubled, place.read_bytes())
        assert count == 1
        place.write_bytes(written)
    _well(press(own_site, tmp_path / "site", Silent()))
    assert _files(tmp_path / "site") == _files(pressed_site)


def _shelf(site: Path, name: str) -> list[Path]:
    return [place for place in (site / "build" / "cache" / name).glob("*/*") if place.is_file()]


def _doubled(times: re.Match[bytes]) -> bytes:
    head = times[0][: times.start(1) - times.start()]
    return head + b", ".join(b"%.17g" % (2 * float(time)) for time in times[1].split(b",")) + b"]"


def test_every_mistake_is_reported_in_one_run_and_the_last_site_remains(
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
    told = {problem.location.path for problem in pressed.problems.errors}
    assert {"lessons/pelvis.md", "clips/dune-face-on/clip.yaml", "site.yaml"} <= told
    assert _files(out) == before


@pytest.mark.parametrize("after", [0, 1, 20])
def test_a_full_disk_leaves_the_last_site_and_no_litter(
    own_site: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, rewrite: Rewrite, after: int
) -> None:
    out = tmp_path / "host" / "site"
    _well(press(own_site, out, Silent()))
    before = _files(out)
    bring = filling._bring
    left = iter(range(after))

    def full(*given: Any) -> FileStanding:
        if next(left, None) is None:
            raise OSError(errno.ENOSPC, "No space left on device", str(given[0]))
        return bring(*given)

    monkeypatch.setattr(filling, "_bring", full)
    rewrite(own_site / "lessons" / "pelvis.md", "three lines", "three plumb lines")
    with pytest.raises(OSError, match="No space left"):
        press(own_site, out, Silent())
    assert _files(out) == before
    assert sorted(path.name for path in out.parent.iterdir()) == ["site", "site.changes.json"]


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
    """Its pictures come from the new file, not from what was kept of one of the same size and time."""
    out = tmp_path / "site"
    (own_site / "lessons" / "kinds.md").unlink()
    clips = own_site / "clips"
    video = clips / "dune-face-on" / "dune-face-on.mp4"
    contents = [video.read_bytes(), (clips / "shingle-face-on" / "shingle-face-on.mp4").read_bytes()]
    first, second = (_padded(content, max(map(len, contents)) + 64) for content in contents)
    video.write_bytes(first)
    _well(press(own_site, out, Silent()))
    before, stood = _files(out), video.stat()
    video.write_bytes(second)
    os.utime(video, ns=(stood.st_atime_ns, stood.st_mtime_ns))
    assert (video.stat().st_size, video.stat().st_mtime_ns) == (stood.st_size, stood.st_mtime_ns)
    stages = _Stages()
    press(own_site, out, stages)
    assert {"reading videos", "taking pictures"} <= set(stages.begun)
    assert {path for path in _files(out) if path.endswith(".webp")}.isdisjoint(before)


def _padded(film: bytes, size: int) -> bytes:
    """A film of this many bytes: a free space box at its end, ISO/IEC 14496-12, 8.1.2."""
    room = size - len(film)
    return film + struct.pack(">I4s", room, b"free") + bytes(room - 8)


def test_a_video_that_may_not_be_read_is_reported_at_its_card(
    own_site: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def refused(*_given: object) -> str:
        raise PermissionError(errno.EACCES, "Permission denied")

    hash_of = FileHashes.hash_of

    def hashed(states: FileHashes, name: str, place: Path, found: os.stat_result) -> str:
        return refused() if name.endswith(".mp4") else hash_of(states, name, place, found)

    monkeypatch.setattr(FileHashes, "hash_of", hashed)
    pressed = press(own_site, tmp_path / "site", Silent())
    assert pressed.summary is None
    assert "no permission" in {one.wrong.rpartition(": ")[2] for one in pressed.problems.errors}


def test_a_video_that_cannot_be_read_is_reported_at_its_card(own_site: Path, tmp_path: Path) -> None:
    video = own_site / "clips" / "dune-face-on" / "dune-face-on.mp4"
    video.write_bytes(video.read_bytes()[:3000])
    pressed = press(own_site, tmp_path / "site", Silent())
    assert pressed.summary is None
    (error,) = [one for one in pressed.problems.errors if one.location.path == "clips/dune-face-on/clip.yaml"]
    assert (error.location.line, error.location.column) == (1, 8)
    assert error.right
    assert not (tmp_path / "site").exists()


def test_a_wrong_theme_is_reported_before_any_work(own_site: Path, tmp_path: Path) -> None:
    site = own_site / "site.yaml"
    site.write_text(site.read_text(encoding="utf-8") + "theme: nowhere\n", encoding="utf-8")
    stages = _Stages()
    pressed = press(own_site, tmp_path / "site", stages)
    (error,) = pressed.problems.errors
    assert (error.location.path, error.location.column) == ("site.yaml", 8)
    assert stages.begun == ["reading the site"]
    assert not (tmp_path / "site").exists()


def test_what_lies_beside_a_renamed_lesson_is_found_at_its_old_address(
    own_site: Path, pressed_site: Path, tmp_path: Path, rewrite: Rewrite
) -> None:
    lessons = own_site / "lessons"
    (lessons / "pelvis.md").rename(lessons / "hips.md")
    rewrite(lessons / "hips.md", "\ndate:", "\nformer: [pelvis, /2024/pelvis]\ndate:")
    out = tmp_path / "site"
    _well(press(own_site, out, Silent()))
    now, old = _files(out / "lessons" / "hips"), _files(out / "lessons" / "pelvis")
    assert now.keys() == _files(pressed_site / "lessons" / "pelvis").keys()
    del now["offline.json"], now["found.json"], now["card/index.html"]  # at its address of today alone
    assert now.keys() == old.keys()
    assert all(old[path] == now[path] for path in now if path != "index.html")
    assert b"refresh" in old["index.html"]
    assert _files(out / "2024" / "pelvis").keys() == {"index.html"}


def test_a_clip_that_drops_out_without_a_word_stops_the_press(
    own_site: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Whatever the cause, readers are never given a figure's source, or braces, in place of a figure."""
    out = tmp_path / "site"
    _well(press(own_site, out, Silent()))
    before = _files(out)
    shutil.rmtree(own_site / "build" / "cache" / "dockets")
    shutil.rmtree(own_site / "build" / "cache" / "last")
    monkeypatch.setattr(clips, "studies_of", lambda *_: {})
    pressed = press(own_site, out, Silent())
    assert pressed.summary is None
    told = {(one.location.path, one.wrong) for one in pressed.problems.errors}
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
    assert error.location.path == "clips/dune-face-on/clip.yaml"
    assert _files(out) == before


def test_a_damaged_picture_is_refused_where_a_lesson_wants_it(own_site: Path, tmp_path: Path) -> None:
    """Reported at the mark, the event or the frame that names it, with the last good site left."""
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


def test_a_loop_that_cannot_be_made_leaves_the_last_site(
    own_site: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A decoder may fail where it did not when the video was played, as on a disk that ends."""
    out = tmp_path / "site"
    _well(press(own_site, out, Silent()))
    before = _files(out)
    lesson = own_site / "lessons" / "pelvis.md"
    lesson.write_text(
        f"{lesson.read_text('utf-8')}\n```loop\nid: down\nfrom: top\nto: impact\n```\n", "utf-8"
    )

    def failing(*_: object, **__: object) -> None:
        raise FootageError("the disk ended", "put it back")

    monkeypatch.setattr(loops, "take_pictures", failing)
    pressed = press(own_site, out, Silent(), workers=1)
    assert pressed.summary is None
    (error,) = pressed.problems.errors
    assert (error.location.path, error.wrong) == ("clips/dune-face-on/clip.yaml", "the disk ended")
    assert _files(out) == before


def test_a_mistake_in_a_card_hides_none_in_its_video(
    own_site: Path, tmp_path: Path, rewrite: Rewrite
) -> None:
    clip = own_site / "clips" / "dune-face-on"
    rewrite(clip / "clip.yaml", "view: face-on", "view: face-onn")
    video = clip / "dune-face-on.mp4"
    video.write_bytes(video.read_bytes()[:5000])
    found = press(own_site, tmp_path / "site", Silent()).problems.errors
    assert {one.location.path for one in found} == {"clips/dune-face-on/clip.yaml"}
    assert len(found) == 2 and any("is not a whole video" in one.wrong for one in found)
