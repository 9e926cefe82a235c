"""Carries marks over a clip's frames and keeps them in its tracks.csv.

Rows of the marks named are replaced, others kept, and none is written on a hand-placed frame: what a hand
placed wins.
"""

from __future__ import annotations

from collections.abc import Collection, Mapping
from pathlib import Path

from lessonpress.disk import write_atomically
from lessonpress.footage import (
    ClipIndex,
    Club,
    Guidance,
    Track,
    can_suggest,
    guided_marks,
    real_times,
    take_pictures,
    track_mark,
)
from lessonpress.manuscript import Clip, table
from lessonpress.records import Point

TRACKS = "tracks.csv"
GRIP = "implement-grip"


def stretch_to_carry(clip: Clip, mark: str, count: int) -> tuple[int, int]:
    """From the first hand-placed frame to the last, or to the clip's end where there is only one."""
    placed = [seen.frame for seen in clip.hand_placed if seen.mark == mark and seen.frame < count]
    if not placed:
        return 0, count - 1
    return min(placed), max(placed) if len(placed) > 1 else count - 1


def frames_to_look_at(
    clip: Clip, marks: Collection[str], first: int, last: int
) -> tuple[tuple[str, ...], range]:
    """Those of the marks that what is seen of the body helps to carry over first..last, and in which frames.

    Without the extra that sees bodies there are none.
    """
    if clip.card is None or not can_suggest():
        return (), range(0)
    by_hand: dict[str, list[int]] = {}
    for seen in clip.hand_placed:
        if seen.mark in marks and first <= seen.frame <= last:
            by_hand.setdefault(seen.mark, []).append(seen.frame)
    helped = guided_marks(clip.card.view, by_hand)
    frames = [frame for mark in helped for frame in by_hand[mark]]
    return helped, range(min(frames), max(frames) + 1) if frames else range(0)


def carry_mark(
    clip: Clip, index: ClipIndex, mark: str, first: int, last: int, guidance: Guidance | None = None
) -> Track:
    """The mark carried from its hand-placed frames over first..last. Raises FootageError for a bad video."""
    assert clip.card is not None and clip.video is not None
    frames = range(first, last + 1)
    pictures = take_pictures(clip.video, index, frames, deinterlace=clip.card.deinterlace)
    return track_mark(pictures, mark, placed_by_hand(clip, mark), first, last, guidance, club_of(clip, index))


def club_of(clip: Clip, index: ClipIndex) -> Club:
    """What is known of the club, for its shaft to be looked for. The clip has a card."""
    assert clip.card is not None
    return Club(placed_by_hand(clip, GRIP), clip.card.view, real_times(index.times, clip.card.filmed_at))


def placed_by_hand(clip: Clip, mark: str) -> dict[int, Point]:
    """The mark's places by frame, px."""
    return {seen.frame: (seen.x, seen.y) for seen in clip.hand_placed if seen.mark == mark}


def keep_tracks(clip: Clip, tracks: Mapping[str, Track]) -> Path:
    """Write the clip's tracks.csv anew, whole or not at all. Raises OSError where the disk fails."""
    rows = [row for made in tracks.values() for row in made.rows]
    path = clip.folder / TRACKS
    write_atomically(path, table(clip.tracks, tracks.keys(), rows).encode())
    return path
