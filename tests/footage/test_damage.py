"""A damaged picture keeps its number and is refused; no other picture ever gets that number.

The truth is each file as it was before a bit of it was flipped.
"""

from __future__ import annotations

import os
import random
import struct
from fractions import Fraction
from pathlib import Path
from typing import Any

import av
import numpy as np
import pytest

from lessonpress.footage.video.damage import _lost
from lessonpress.footage.video.failure import FootageError
from lessonpress.footage.video.index import read_index
from lessonpress.footage.video.opening import opened
from lessonpress.footage.video.pictures import take_pictures
from lessonpress.footage.video.playing import Played, Sent
from tests.footage.conftest import numbered
from tests.studio import strip
from tests.studio.film import encode

COUNT, GOP = 36, 12
HASHED = {"x265-params": "log-level=none:hash=1"}

# Beside each: how much of the damage the codec lets its decoder see.
STOCKS: dict[str, tuple[dict[str, Any], str]] = {
    "h264.mp4": ({"gop": GOP, "b_frames": 2}, "most"),
    "h264.ts": ({"gop": GOP, "b_frames": 2}, "most"),
    "hevc-with-sums.mp4": ({"codec": "libx265", "gop": GOP, "b_frames": 2, "options": HASHED}, "every"),
    "hevc.mp4": ({"codec": "libx265", "gop": GOP, "b_frames": 2}, "few"),
    "vp9.webm": ({"codec": "libvpx-vp9", "gop": GOP, "options": {"lag-in-frames": "9"}}, "few"),
    "av1.mp4": ({"codec": "libsvtav1", "gop": GOP}, "most"),
    "mpeg4.mp4": ({"codec": "mpeg4", "gop": GOP}, "most"),
    "mjpeg.avi": ({"codec": "mjpeg", "pix_fmt": "yuvj420p"}, "few"),
    "mpeg2.mpg": ({"codec": "mpeg2video", "gop": GOP, "b_frames": 2}, "few"),
}


def _spans(path: Path) -> list[tuple[int, int, bool]]:
    """Position, size and key of each video packet."""
    with av.open(str(path)) as container:
        return [
            (packet.pos, packet.size, packet.is_keyframe)
            for packet in container.demux(video=0)
            if packet.size and packet.pos is not None
        ]


def _flipped(path: Path, place: int, bit: int) -> Path:
    content = bytearray(path.read_bytes())
    content[place] ^= 1 << bit
    other = path.with_name(f"flipped{path.suffix}")
    other.write_bytes(content)
    return other


@pytest.mark.parametrize("name", STOCKS)
def test_flipped_bits_never_shift_a_number(tmp_path: Path, name: str) -> None:
    """In 24 places a file: each picture returned is the true one of its number. Where the codec lets damage
    pass unseen, only pictures up to the next key picture can be other than they were.
    """
    stock, seen = STOCKS[name]
    path = encode(tmp_path / name, numbered(COUNT), **stock)
    whole = read_index(path)
    truth = dict(take_pictures(path, whole, whole.intact()))
    assert (len(whole), whole.damaged) == (COUNT, ())
    drawn = random.Random(11)
    spans = _spans(path)
    unseen = 0
    for trial in range(24):
        position, size, _ = spans[trial * len(spans) // 24]
        bad = _flipped(path, position + drawn.randrange(size), drawn.randrange(8))
        try:
            index = read_index(bad)
            handed_out = dict(take_pictures(bad, index, index.intact()))
        except FootageError:
            continue
        assert index.times == pytest.approx(whole.times)
        wrong = {number for number in handed_out if not np.array_equal(handed_out[number], truth[number])}
        unseen += bool(wrong)
        reach = GOP + 3  # with those stored after the next key picture and shown before it
        assert not wrong or max(wrong) - min(wrong) < reach, (trial, wrong)
    assert unseen <= {"every": 0, "most": 12, "few": 24}[seen]


@pytest.mark.parametrize("name", ["h264.mp4", "hevc-with-sums.mp4", "mpeg4.mp4"])
def test_a_lost_key_picture_takes_what_is_drawn_on_it_and_nothing_else(tmp_path: Path, name: str) -> None:
    path = encode(tmp_path / name, numbered(COUNT), **STOCKS[name][0])
    spans = [span for span in _spans(path) if span[2]]
    position, size, _ = spans[1]
    content = bytearray(path.read_bytes())
    content[position + 6 : position + size] = bytes(size - 6)
    path.write_bytes(content)
    index = read_index(path)
    assert len(index) == COUNT
    assert set(range(GOP, 2 * GOP)) <= set(index.damaged) <= set(range(GOP - 3, 2 * GOP))
    for number, picture in take_pictures(path, index, index.intact()):
        assert strip.read(picture) == number
    with pytest.raises(FootageError, match=f"frame {GOP + 1} .* is damaged"):
        list(take_pictures(path, index, [2, GOP + 1]))


@pytest.mark.parametrize("name", ["h264.mp4", "hevc-with-sums.mp4", "vp9.webm"])
def test_a_fault_in_the_last_picture_is_seen(tmp_path: Path, name: str) -> None:
    """A decoder with a thread for each core reports it after the end, to no one."""
    path = encode(tmp_path / name, numbered(COUNT), **STOCKS[name][0])
    position, size, _ = _spans(path)[-1]
    content = bytearray(path.read_bytes())
    content[position + 4 : position + size] = b"\xff" * (size - 4)
    path.write_bytes(content)
    index = read_index(path)
    assert len(index) == COUNT
    assert len(index.damaged) >= 1


@pytest.mark.skipif(not hasattr(os, "sched_setaffinity"), reason="needs a system that can hide cores")
@pytest.mark.parametrize("name", ["h264.mp4", "hevc-with-sums.mp4", "mpeg4.mp4"])
def test_the_verdict_is_the_same_on_any_number_of_cores(tmp_path: Path, name: str) -> None:
    path = encode(tmp_path / name, numbered(COUNT), **STOCKS[name][0])
    position, size, _ = _spans(path)[20]
    bad = _flipped(path, position + size // 2, 3)
    cores = os.sched_getaffinity(0)
    verdicts = []
    try:
        for seen in ({min(cores)}, cores):
            os.sched_setaffinity(0, seen)
            verdicts.append(read_index(bad))
    finally:
        os.sched_setaffinity(0, cores)
    assert verdicts[0] == verdicts[1]


@pytest.mark.parametrize("name", STOCKS)
def test_one_thread_decodes(tmp_path: Path, name: str) -> None:
    """With more, a fault is found with another packet than the faulty one, or with none."""
    with opened(encode(tmp_path / name, numbered(3), **STOCKS[name][0])) as (_, stream):
        assert stream.codec_context.thread_count == 1


def _box(content: bytearray, name: bytes) -> int:
    return content.index(name) + 4


def test_a_table_of_times_that_hides_pictures_is_reported(tmp_path: Path) -> None:
    """One bit of stts (ISO/IEC 14496-12, 8.6.1.2): each picture then lasts for minutes."""
    path = encode(tmp_path / "clip.mp4", numbered(24), gop=8)
    content = bytearray(path.read_bytes())
    at = _box(content, b"stts") + 12
    (delta,) = struct.unpack_from(">I", content, at)
    struct.pack_into(">I", content, at, delta | 1 << 22)
    path.write_bytes(content)
    with pytest.raises(FootageError, match="its table is damaged"):
        read_index(path)


SIZES: dict[str, tuple[dict[str, Any], tuple[int, int], str]] = {
    "of two pixels": ({"codec": "ffv1"}, (2, 2), "too small"),
    "of one pixel": ({"codec": "ffv1", "pix_fmt": "yuv444p"}, (1, 1), "too small"),
    "too long": ({"codec": "ffv1"}, (17_000, 16), "at most 16383 px"),
}


@pytest.mark.parametrize("case", SIZES)
def test_sizes_that_no_lesson_can_use_are_refused(tmp_path: Path, case: str) -> None:
    stock, (width, height), reason = SIZES[case]
    pictures = [np.full((height, width, 3), 90, dtype=np.uint8)] * 2
    path = encode(tmp_path / "odd.mkv", pictures, **stock)
    with pytest.raises(FootageError, match=reason) as told:
        read_index(path)
    assert told.value.way_out


@pytest.mark.parametrize("aspect", [(60_000, 1), (1, 60_000), (5, 1), (1, 5)])
def test_pixels_that_no_camera_makes_are_refused(tmp_path: Path, aspect: tuple[int, int]) -> None:
    """Stretched square, a picture of them would take gigabytes. By box pasp (ISO/IEC 14496-12, 12.1.4)."""
    path = encode(tmp_path / "clip.mp4", numbered(2), pixel_aspect=Fraction(3))
    content = bytearray(path.read_bytes())
    struct.pack_into(">II", content, _box(content, b"pasp"), *aspect)
    path.write_bytes(content)
    with pytest.raises(FootageError, match="no camera makes"):
        read_index(path)


def test_a_clip_of_too_many_pictures_is_refused(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("lessonpress.footage.video.bounds.MOST_PICTURES", 20)
    for name in ("a.mp4", "a.mkv"):  # counted by the container, or only by playing
        with pytest.raises(FootageError, match="more than 20 pictures"):
            read_index(encode(tmp_path / name, numbered(24)))


@pytest.mark.parametrize(("codec", "lost"), [("h264", {2, 3}), ("vp8", {3})])
def test_a_vp8_packet_that_shows_nothing_is_lost_only_where_there_is_a_fault_in_it(
    codec: str, lost: set[int]
) -> None:
    """RFC 6386, section 9.1 (from memory): a VP8 frame need not be shown; every packet of H.264 is."""
    sent = [Sent(pts, key=pts == 0, hidden=False, faulty=pts == 3) for pts in range(5)]
    assert _lost(Played(sent, []), sent, codec, {0, 1, 4}) == lost


def test_a_film_that_changes_its_size_partway_is_refused(tmp_path: Path) -> None:
    """Two films of Motion JPEG one after the other: a player goes on into the second."""
    ends = [
        encode(tmp_path / f"{width}.avi", numbered(6, width), codec="mjpeg", pix_fmt="yuvj420p")
        for width in (322, 482)
    ]
    path = tmp_path / "both.avi"
    path.write_bytes(b"".join(end.read_bytes() for end in ends))
    with pytest.raises(FootageError, match=r"both\.avi changes its picture size partway"):
        read_index(path)
