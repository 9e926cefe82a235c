"""A contact sheet of a clip, of some pictures or of all around an instant, to read the frames of events off.

What the card obscures is blurred on it too: a sheet is a file, and files are passed on.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from io import BytesIO
from pathlib import Path

import numpy as np
from numpy.typing import NDArray
from PIL import Image

from lessonpress.disk import write_atomically
from lessonpress.figures import events_of
from lessonpress.footage import (
    ClipIndex,
    Disc,
    FootageError,
    contact_sheet,
    frames_around,
    frames_spaced,
    read_index,
)
from lessonpress.intake.clip import OpenedClip, clip_named, instant_frame
from lessonpress.manuscript import Card, Clip
from lessonpress.records import Problems, UsageError

HEAD = 0.12  # radius of what is as wide as a head, as a share of the picture's height: no one is taller
PLACED = 0.01  # of the picture's shorter side: how far a mark may be off where nothing says it
COVERAGE = 2.0  # standard uncertainties on each side: some 95 % (JCGM 100, 6.3.3)


@dataclass(frozen=True)
class Sheet:
    """frames: those on it. open: those of them on which a mark that is to be obscured is not placed."""

    path: Path
    frames: list[int]
    open: list[int]


def sheet_of(root: Path, name: str, instant: str | None = None) -> Sheet:
    """The sheet of the clip `name` around an instant; without one, that of `ingest` drawn again.

    The card's questions may still be open: only its video is needed. Raises UsageError where there is no
    such clip, video or instant.
    """
    clip, _ = clip_named(root, name)
    card = clip.readable if clip else None
    if clip is None or card is None or not (clip.folder / card.video).is_file():
        raise UsageError(f"the card of {name} names no video that is there; `lessonpress press` says why")
    try:
        index = read_index(clip.folder / card.video)
        opened = OpenedClip(clip, index, events_of(clip, card, index, Problems()))
        intact = index.intact(deinterlace=card.deinterlace)
        frames = frames_spaced(intact)
        if instant is not None:
            frames = frames_around(intact, instant_frame(opened, instant))
        hidden = _hidden(clip, card, index, frames)
        sheet = contact_sheet(
            clip.folder / card.video, index, frames, deinterlace=card.deinterlace, hidden=hidden
        )
    except FootageError as error:
        raise UsageError(str(error)) from error
    asked = len(card.obscured)
    kept = keep_sheet(root, name if instant is None else f"{name}-{frames[0]}-to-{frames[-1]}", sheet)
    return Sheet(kept, frames, [frame for frame in frames if len(hidden.get(frame, ())) < asked])


def _hidden(clip: Clip, card: Card, index: ClipIndex, frames: Iterable[int]) -> dict[int, list[Disc]]:
    """By frame the discs of what the card obscures, as wide as they could have to be: nothing is measured."""
    placed = {(one.mark, one.frame): one for one in clip.observations}
    hidden: dict[int, list[Disc]] = {}
    for frame in frames:
        for mark, across in card.obscured:
            seen = placed.get((mark, frame))
            if seen is not None:
                radius = HEAD * index.size[1] if across is None else across / 2
                off = PLACED * min(index.size) if seen.u is None else seen.u
                hidden.setdefault(frame, []).append(((seen.x, seen.y), radius + COVERAGE * off))
    return hidden


def keep_sheet(root: Path, name: str, sheet: NDArray[np.uint8]) -> Path:
    """The sheet as a PNG in SITE/build/sheets."""
    path = root / "build" / "sheets" / f"{name}.png"
    path.parent.mkdir(parents=True, exist_ok=True)
    written = BytesIO()
    Image.fromarray(sheet).save(written, "PNG")
    write_atomically(path, written.getvalue(), lasting=False)
    return path
