"""Which number each picture has where some of them are damaged: a picture that is lost keeps its place.

A picture is known by its timestamp, which the container states apart from the picture's own data. So a packet
that brought no picture still has its number. A picture is damaged where the decoder finds fault with its
packet, or brings none; and with it all that follow in storing up to the next key picture, which are drawn on
what went before. Pictures that are stored after that key picture and shown before it lean on both sides.

Not every damage can be seen. Codecs like HEVC and VP9 decode almost anything into some picture, and unless
the encoder put check sums into the stream, one that is spoilt within is like any other. Its number is right
all the same; that the file is the one the marks were placed on is for the card's fingerprint to hold.
"""

from __future__ import annotations

from collections.abc import Collection, Sequence
from dataclasses import dataclass
from itertools import pairwise
from pathlib import Path

from lessonpress.footage.video.failure import FootageError
from lessonpress.footage.video.opening import EXPORT_AGAIN
from lessonpress.footage.video.playing import Played, Sent, Shown

# Containers without a table of pictures: these are cut apart at their start codes, and where damage takes one
# away, two of them are one.
SEARCHED = ("mpegts", "mpeg")


@dataclass(frozen=True)
class Numbered:
    """pictures: by frame, None for one that did not come. pts: by frame; () where the container has none."""

    pictures: tuple[Shown | None, ...]
    pts: tuple[int, ...]
    damaged: frozenset[int]


def numbered(played: Played, container: str, codec: str, path: Path) -> Numbered:
    """The pictures by frame. container, codec: their names as the demuxer gives them.

    Raises FootageError where pictures cannot be distinguished, or are damaged and cannot be counted.
    """
    shown = [picture.pts for picture in played.shown if picture.pts is not None]
    in_order = len(shown) == len(played.shown) and all(early < late for early, late in pairwise(shown))
    faulty = _faulty(played)
    if faulty and container in SEARCHED:
        raise FootageError(f"{path.name} is damaged, and does not count its pictures", EXPORT_AGAIN)
    if (in_order or faulty) and _stamped(played, shown):  # past a fault, decoders may show out of order
        return _by_stamp(played, codec, path)
    if not in_order and container != "avi":
        raise FootageError("the file's timestamps do not tell its pictures apart", EXPORT_AGAIN)
    if faulty:
        raise FootageError(
            f"{path.name} is damaged, and does not say by its times which pictures are lost", EXPORT_AGAIN
        )
    return Numbered(tuple(played.shown), tuple(shown) if in_order else (), frozenset())


def _faulty(played: Played) -> bool:
    """Whether a fault was found from the first key picture on."""
    begun = _from_the_first_key(played)
    start = (begun[0].pts or 0) if begun else 0
    return any(one.faulty for one in begun) or any(
        picture.corrupt and (picture.pts is None or picture.pts >= start) for picture in played.shown
    )


def _stamped(played: Played, shown: Sequence[int]) -> bool:
    """Whether each packet has a time of its own, and pictures have those of their packets."""
    stamps = {one.pts for one in played.sent}
    unique = len(stamps) == len(played.sent) and len(set(shown)) == len(played.shown)
    return None not in stamps and unique and stamps.issuperset(shown)


def _from_the_first_key(played: Played) -> list[Sent]:
    """The packets from the first key picture on: what a recording begins with before it was never whole."""
    first = next((number for number, one in enumerate(played.sent) if one.key), 0)
    return played.sent[first:]


def _by_stamp(played: Played, codec: str, path: Path) -> Numbered:
    by_stamp = {picture.pts: picture for picture in played.shown if picture.pts is not None}
    begun = _from_the_first_key(played)
    start = begun[0].pts if begun and begun[0].pts is not None else 0
    corrupt = {stamp for stamp, picture in by_stamp.items() if picture.corrupt}
    lost = _lost(played, begun, codec, by_stamp.keys())
    spoilt = _spoilt(begun, lost | corrupt)
    never_whole = {stamp for stamp in lost | corrupt if stamp < start}
    numbers = sorted((by_stamp.keys() | lost) - never_whole)
    damaged = frozenset(number for number, stamp in enumerate(numbers) if stamp in spoilt | corrupt)
    if len(damaged) == len(numbers):
        raise FootageError(f"{path.name} is damaged throughout", EXPORT_AGAIN)
    return Numbered(tuple(by_stamp.get(stamp) for stamp in numbers), tuple(numbers), damaged)


def _lost(played: Played, begun: Sequence[Sent], codec: str, stamps: Collection[int]) -> set[int]:
    """Timestamps of packets that should have brought a picture and did not.

    Two kinds of stream hold packets that rightly bring none: VP8 keeps pictures that are only drawn on, and
    interlaced ones may send each field by itself. There a packet is missed only where there is a fault in it.
    """
    missed = {one.pts: one.faulty for one in begun if not one.hidden and one.pts not in stamps}
    fields = any(picture.interlaced for picture in played.shown) and len(missed) * 3 >= len(begun)
    every = not (fields or codec == "vp8")
    return {stamp for stamp, faulty in missed.items() if stamp is not None and (every or faulty)}


def _spoilt(begun: Sequence[Sent], bad: Collection[int]) -> set[int]:
    """Timestamps of pictures that are bad or drawn on bad ones, by the order of storing.

    Those shown before the key picture that they are stored after are drawn on by one another alone.
    """
    spoilt: set[int] = set()
    leading, now, key = False, False, 0
    for one in begun:
        stamp = one.pts or 0
        if one.key:
            leading, now, key = now, False, stamp
        is_bad = one.faulty or stamp in bad
        if stamp < key:
            leading = leading or now or is_bad
        else:
            now = now or is_bad
        if leading if stamp < key else now:
            spoilt.add(stamp)
    return spoilt
