"""A contact sheet of every picture around one instant of a clip, to read the frames of events off."""

from __future__ import annotations

from io import BytesIO
from pathlib import Path

import numpy as np
from numpy.typing import NDArray
from PIL import Image

from lessonpress.disk import write_atomically
from lessonpress.figures import events_of
from lessonpress.footage import FootageError, contact_sheet, frames_around, read_index
from lessonpress.intake.clip import OpenedClip, clip_named, instant_frame
from lessonpress.records import Problems, UsageError


def sheet_around(root: Path, name: str, instant: str) -> tuple[Path, list[int]]:
    """The sheet of the clip `name` around an instant, and the frames on it.

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
        frames = frames_around(intact, instant_frame(opened, instant))
        sheet = contact_sheet(clip.folder / card.video, index, frames, deinterlace=card.deinterlace)
    except FootageError as error:
        raise UsageError(str(error)) from error
    return keep_sheet(root, f"{name}-{frames[0]}-to-{frames[-1]}", sheet), frames


def keep_sheet(root: Path, name: str, sheet: NDArray[np.uint8]) -> Path:
    """The sheet as a PNG in SITE/build/sheets."""
    path = root / "build" / "sheets" / f"{name}.png"
    path.parent.mkdir(parents=True, exist_ok=True)
    written = BytesIO()
    Image.fromarray(sheet).save(written, "PNG")
    write_atomically(path, written.getvalue(), lasting=False)
    return path
