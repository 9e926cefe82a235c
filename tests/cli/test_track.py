"""`lessonpress track` says of each mark which frames it was carried to, which not, why, and what to do."""

from __future__ import annotations

from lessonpress.cli.track import _carried, _missing
from lessonpress.footage.tracking.tracking import Gap, Track
from lessonpress.records.mark import Observation


def at(*frames: int) -> tuple[Observation, ...]:
    return tuple(Observation("navel", frame, 10.0, 10.0, 0.1 * frame, tracked=True) for frame in frames)


def test_the_frames_reached_are_printed_as_stretches_with_the_largest_u() -> None:
    assert _carried(Track(at(4, 5, 6, 9), ())) == "carried to 4 frames, 4 to 6, 9, u up to 0.90 px"
    assert _carried(Track((), ())) == "carried to no frame"


def test_a_gap_is_reported_with_each_reason_and_the_frame_to_place_next() -> None:
    track = Track(
        at(4), (Gap(5, 9, "onward from frame 3, it leaves the picture; back from frame 10, it blurs"),)
    )
    assert list(_missing("navel", track)) == [
        "warning: navel is not carried to frames 5 to 9",
        "  onward from frame 3, it leaves the picture",
        "  back from frame 10, it blurs",
        "  place it by hand on frame 7, then carry it again",
    ]


def test_a_mark_carried_everywhere_is_reported_without_a_warning() -> None:
    assert list(_missing("navel", Track(at(4, 5), ()))) == []
