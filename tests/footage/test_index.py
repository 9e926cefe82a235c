"""Frame n is the n-th picture shown, whatever the codec, the rate, or the order in which it is stored."""

from __future__ import annotations

import gc
import struct
from collections.abc import Callable
from fractions import Fraction
from pathlib import Path
from typing import Any

import av
import pytest
from av.video.frame import VideoFrame

from lessonpress.footage.video.failure import FootageError
from lessonpress.footage.video.index import ClipIndex, fingerprint, read_index
from lessonpress.footage.video.opening import opened
from lessonpress.footage.video.pictures import take_pictures
from lessonpress.footage.video.playing import play
from tests.footage.conftest import numbered
from tests.studio import strip
from tests.studio.film import encode

COUNT = 75

# Ten seconds between key frames, pictures stored out of order, one codec after another.
STOCKS: list[tuple[str, dict[str, Any]]] = [
    ("h264.mp4", {"gop": 300, "b_frames": 3}),
    ("hevc.mp4", {"codec": "libx265", "gop": 300, "b_frames": 3}),
    ("vp9.webm", {"codec": "libvpx-vp9", "gop": 40, "options": {"lag-in-frames": "12", "auto-alt-ref": "1"}}),
    ("av1.mp4", {"codec": "libsvtav1", "gop": 40}),
    ("mjpeg.avi", {"codec": "mjpeg", "pix_fmt": "yuvj420p"}),
    ("ten-bit.mp4", {"gop": 30, "b_frames": 2, "pix_fmt": "yuv420p10le"}),
    ("transport.ts", {"gop": 15, "b_frames": 3}),
    ("open-group.mp4", {"options": {"x264-params": "open-gop=1:keyint=20:bframes=3:b-adapt=0"}}),
    ("refreshed.mp4", {"gop": 30, "options": {"intra-refresh": "1"}}),
    ("pieces.mp4", {"gop": 30, "b_frames": 3, "container_options": {"movflags": "frag_keyframe+empty_moov"}}),
    ("without-times.avi", {"gop": 20, "b_frames": 2}),
    ("program.mpg", {"codec": "mpeg2video", "gop": 15, "b_frames": 2}),
]


@pytest.mark.parametrize(("name", "stock"), STOCKS, ids=[name for name, _ in STOCKS])
def test_frame_n_is_the_nth_picture_shown(tmp_path: Path, name: str, stock: dict[str, Any]) -> None:
    path = encode(tmp_path / name, numbered(COUNT), **stock)
    index = read_index(path)
    assert len(index) == COUNT
    assert index.times == pytest.approx([number / 30 for number in range(COUNT)], abs=1e-9)
    asked = [0, 1, 29, 30, 31, 52, COUNT - 1]
    assert {number: strip.read(picture) for number, picture in take_pictures(path, index, asked)} == {
        number: number for number in asked
    }


def test_odd_sizes_keep_every_column_and_line(tmp_path: Path) -> None:
    path = encode(tmp_path / "odd.webm", numbered(9, 321, 181), codec="libvpx-vp9")
    index = read_index(path)
    assert index.size == (321, 181)
    assert [picture.shape for _, picture in take_pictures(path, index, [8])] == [(181, 321, 3)]


def test_a_variable_rate_keeps_each_pictures_own_time(tmp_path: Path) -> None:
    times = [0.0, 0.03, 0.1, 0.11, 0.4, 0.9, 0.93, 1.5]
    index = read_index(encode(tmp_path / "variable.mp4", numbered(8), times=times))
    assert index.times == pytest.approx(times, abs=1e-4)
    assert [index.frame_at(seconds) for seconds in (0.0, 0.0999, 0.1, 0.39, 1.2)] == [0, 1, 2, 3, 6]


def test_no_frame_is_on_screen_before_the_first_or_after_the_last(tmp_path: Path) -> None:
    index = read_index(encode(tmp_path / "short.mp4", numbered(6)))
    assert index.duration == pytest.approx(0.2)
    assert (index.frame_at(-0.01), index.frame_at(0.199), index.frame_at(0.2)) == (None, 5, None)


def test_times_that_matroska_rounds_to_milliseconds_go_back_to_the_even_rate(tmp_path: Path) -> None:
    index = read_index(encode(tmp_path / "high-speed.mkv", numbered(60), fps=240))
    assert index.times == pytest.approx([number / 240 for number in range(60)], abs=1e-12)


@pytest.mark.parametrize("name", ["late.mov", "late.ts", "late.mkv"])
def test_times_count_from_frame_0_where_the_file_starts_late(tmp_path: Path, name: str) -> None:
    path = encode(tmp_path / name, numbered(40), start=2.0, gop=10, b_frames=2)
    index = read_index(path)
    assert index.times[:2] == pytest.approx((0.0, 1 / 30), abs=1e-9)
    assert 2.0 <= index.start <= 2.2
    assert [strip.read(picture) for _, picture in take_pictures(path, index, [33])] == [33]


def test_pictures_hidden_by_an_edit_list_are_not_shown(tmp_path: Path) -> None:
    path = encode(tmp_path / "edited.mp4", numbered(60), gop=20, b_frames=2)
    _hide_the_first(path, 7)
    index = read_index(path)
    assert (len(index), index.times[0]) == (53, 0.0)
    assert [strip.read(picture) for _, picture in take_pictures(path, index, [0, 13, 52])] == [7, 20, 59]


def _hide_the_first(path: Path, frames: int) -> None:
    """Move the start of the one edit in the file's edit list (ISO/IEC 14496-12, elst) by some frames."""
    content = bytearray(path.read_bytes())
    at = content.index(b"elst") + 4
    version, entries = struct.unpack_from(">B3xI", content, at)
    assert (version, entries) == (0, 1)
    with av.open(str(path)) as container:
        base = container.streams.video[0].time_base
    assert base is not None
    (begin,) = struct.unpack_from(">i", content, at + 12)
    struct.pack_into(">i", content, at + 12, begin + round(frames / 30 / base))
    path.write_bytes(content)


def test_sound_that_does_not_decode_is_no_hindrance(tmp_path: Path) -> None:
    path = encode(tmp_path / "noisy.mp4", numbered(40), sound=True)
    content = bytearray(path.read_bytes())
    with av.open(str(path)) as container:
        packets = [(packet.pos, packet.size) for packet in container.demux(audio=0) if packet.size]
    for position, size in packets:
        assert position is not None
        content[position : position + size] = bytes(size)
    path.write_bytes(content)
    index = read_index(path)
    assert [strip.read(picture) for _, picture in take_pictures(path, index, [38])] == [38]


@pytest.mark.parametrize("suffix", [".mkv", ".mp4"])
def test_a_title_that_is_not_utf_8_is_no_hindrance(tmp_path: Path, suffix: str) -> None:
    """As old cameras and editors write them: ISO 8859-1 where the containers ask for UTF-8."""
    path = encode(tmp_path / f"titled{suffix}", numbered(3), title="cafe au lait")
    content = path.read_bytes()
    assert b"cafe au lait" in content
    path.write_bytes(content.replace(b"cafe au lait", "café au lait".encode("latin-1")))
    assert len(read_index(path)) == 3


def test_a_missing_duration_is_made_up_from_the_pictures(tmp_path: Path) -> None:
    path = encode(tmp_path / "live.mkv", numbered(30), container_options={"live": "1"})
    with av.open(str(path)) as container:
        assert container.duration is None
    assert read_index(path).duration == pytest.approx(1.0, abs=1e-3)


@pytest.mark.parametrize("code", ["01:00:00:00", "00:59:58;12"])
def test_the_start_timecode_is_read_from_the_file(tmp_path: Path, code: str) -> None:
    path = encode(tmp_path / "coded.mov", numbered(3), timecode=code, fps=Fraction(30000, 1001))
    assert read_index(path).start_timecode == code
    assert read_index(encode(tmp_path / "plain.mov", numbered(3))).start_timecode is None


def test_an_index_survives_being_written_as_json(tmp_path: Path) -> None:
    path = encode(
        tmp_path / "clip.mov", numbered(12), rotation=90, timecode="00:00:01:00", pixel_aspect=Fraction(4, 3)
    )
    index = read_index(path)
    assert ClipIndex.from_json(index.to_json()) == index
    with pytest.raises(ValueError, match="another form"):
        ClipIndex.from_json(index.to_json().replace('"form": 2', '"form": 1'))


def test_the_fingerprint_is_the_files_sha_256(tmp_path: Path) -> None:
    """The digest of "abc" is that of FIPS 180-4's example, which shows that whole files are hashed."""
    path = _written(tmp_path / "abc.bin", b"abc")
    assert fingerprint(path) == "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad"
    clip = encode(tmp_path / "clip.mp4", numbered(3))
    assert read_index(clip).fingerprint == fingerprint(clip)


def _cut(path: Path, keep: float) -> Path:
    content = path.read_bytes()
    path.write_bytes(content[: int(len(content) * keep)])
    return path


def _holed(path: Path) -> Path:
    content = bytearray(path.read_bytes())
    middle = len(content) // 2
    content[middle : middle + 2000] = bytes(2000)
    path.write_bytes(content)
    return path


def _written(path: Path, content: bytes) -> Path:
    path.write_bytes(content)
    return path


FASTSTART = {"movflags": "faststart"}
FAULTY: dict[str, tuple[Callable[[Path], Path], str]] = {
    "missing": (lambda folder: folder / "none.mp4", "there is no file"),
    "folder": (lambda folder: folder, "is not a file"),
    "empty": (lambda folder: _written(folder / "empty.mp4", b""), "is empty"),
    "text": (
        lambda folder: _written(folder / "text.mp4", b"A lesson, not a video.\n" * 40),
        "not a whole video",
    ),
    "playlist": (
        lambda folder: _written(folder / "list.m3u8", b"#EXTM3U\n#EXTINF:9,\nhttp://example.org/a.ts\n"),
        "not a whole video",
    ),
    "table cut off": (lambda folder: _cut(encode(folder / "a.mp4", numbered(60)), 0.5), "not a whole video"),
    "pictures cut off": (
        lambda folder: _cut(encode(folder / "a.mp4", numbered(60), container_options=FASTSTART), 0.5),
        "is cut short",
    ),
    "matroska cut off": (lambda folder: _cut(encode(folder / "a.mkv", numbered(60)), 0.5), "is cut short"),
    "no word of its codec": (
        lambda folder: _without_codec(encode(folder / "a.mp4", numbered(5))),
        "is encoded in no way",
    ),
    "a hole": (lambda folder: _holed(encode(folder / "a.ts", numbered(60), gop=10)), "is damaged"),
}


def _without_codec(film: Path) -> Path:
    """The sample description box, which names the codec (ISO/IEC 14496-12, 8.5.2), is another box."""
    film.write_bytes(film.read_bytes().replace(b"stsd", b"free"))
    return film


@pytest.mark.parametrize("case", FAULTY)
def test_a_file_that_is_no_whole_video_is_refused_with_a_way_out(tmp_path: Path, case: str) -> None:
    make, reason = FAULTY[case]
    with pytest.raises(FootageError) as told:
        read_index(make(tmp_path))
    assert reason in told.value.reason
    assert told.value.way_out


def test_a_file_with_sound_alone_is_refused(tmp_path: Path) -> None:
    whole = encode(tmp_path / "both.mp4", numbered(5), sound=True)
    alone = tmp_path / "sound.mp4"
    with av.open(str(whole)) as source, av.open(str(alone), "w") as copy:
        stream = copy.add_stream_from_template(source.streams.audio[0])
        for packet in source.demux(audio=0):
            if packet.dts is not None:
                packet.stream = stream
                copy.mux(packet)
    with pytest.raises(FootageError, match="no moving pictures"):
        read_index(alone)


def test_pictures_are_let_go_as_a_file_is_played(tmp_path: Path) -> None:
    """Of sixty that are played two are held: that by whose turn all are shown, and the decoder's next."""
    film = encode(tmp_path / "long.mp4", numbered(60))
    gc.collect()
    gc.disable()
    try:
        with opened(film) as (container, stream):
            play(container, stream, film)
        held = [one for one in gc.get_objects() if isinstance(one, VideoFrame)]
    finally:
        gc.enable()
    assert len(held) <= 2
