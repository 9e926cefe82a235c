"""How much each picture differs from the one before it, and the events of a swing that this suggests.

The events are proposals for an author to look at, never numbers to print: the curve knows how much changes
in a picture and not what.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

import cv2
import numpy as np
from numpy.typing import NDArray

LIVELIEST = 99.5  # percentile of blocks: a ball is a few of some nine hundred
BLOCK = 12  # px, of pictures made about SMALL px wide
SMALL = 480
STANDS_OUT = 0.3  # grey levels over the whole picture that the liveliest one must change by
QUIET = 0.06  # of the liveliest picture's change: at rest
AT_REST = 4  # pictures
VALLEY = 0.15  # of the liveliest picture's change: a clear one's depth

Curve = NDArray[np.float64]


@dataclass(frozen=True)
class Change:
    """What changed at `frame` since the picture before, in grey levels (0 to 255).

    mean: absolute difference over the whole picture. most: of the few blocks that change most (LIVELIEST),
    the motion of even a small subject. middling: of the middling block (median), which is noise where the
    camera stands.
    """

    frame: int
    mean: float
    most: float
    middling: float


def picture_changes(pictures: Iterable[tuple[int, NDArray[np.uint8]]]) -> list[Change]:
    """One `Change` for each picture (frame, grey (h, w)) but the first."""
    made: list[Change] = []
    before: NDArray[np.float32] | None = None
    for frame, picture in pictures:
        now = _small(picture)
        if before is not None:
            made.append(_change(frame, np.abs(now - before)))
        before = now
    return made


def proposed_events(seen: Sequence[Change]) -> dict[str, int]:
    """Frames that may be setup, top, impact and finish: those only that are distinct on the curve.

    impact: where most changes. setup: the last picture at rest before the motion that leads there. top: the
    bottom of the deepest valley between them. finish: the first picture at rest after impact.
    """
    if len(seen) < 2 * AT_REST:
        return {}
    motion = _smoothed([change.mean for change in seen])
    peak = int(motion.argmax())
    if motion[peak] < STANDS_OUT:
        return {}
    frames = {"impact": seen[peak].frame}
    resting = motion < QUIET * motion[peak]
    setup = _last_rest(resting[:peak])
    if setup is not None:
        frames["setup"] = seen[setup].frame
    top = _valley(motion[(setup or 0) : peak + 1])
    if top is not None:
        frames["top"] = seen[(setup or 0) + top].frame
    after = np.flatnonzero(resting[peak:])
    if len(after):
        frames["finish"] = seen[peak + int(after[0])].frame
    return dict(sorted(frames.items(), key=lambda event: event[1]))


def _smoothed(curve: list[float]) -> Curve:
    """The mean of three, above the curve's lowest level, which is noise."""
    wide = np.pad(np.asarray(curve, dtype=np.float64), 1, mode="edge")
    smooth = (wide[:-2] + wide[1:-1] + wide[2:]) / 3
    return np.asarray(smooth - smooth.min(), dtype=np.float64)


def _last_rest(resting: NDArray[np.bool_]) -> int | None:
    """The end of the last rest of AT_REST pictures or more."""
    for end in range(len(resting) - 1, AT_REST - 2, -1):
        if resting[end - AT_REST + 1 : end + 1].all():
            return end
    return None


def _valley(motion: Curve) -> int | None:
    """The bottom that lies deepest under the lower of the hills beside it; None without a clear one."""
    before = np.maximum.accumulate(motion)
    after = np.maximum.accumulate(motion[::-1])[::-1]
    depth = np.minimum(before, after) - motion
    bottom = int(depth.argmax())
    return bottom if depth[bottom] > VALLEY * motion.max() else None


def _small(picture: NDArray[np.uint8]) -> NDArray[np.float32]:
    scale = min(1.0, SMALL / picture.shape[1])
    size = (max(BLOCK, round(picture.shape[1] * scale)), max(BLOCK, round(picture.shape[0] * scale)))
    small = cv2.resize(picture.astype(np.float32), size, interpolation=cv2.INTER_AREA)
    return np.asarray(small, dtype=np.float32)


def _change(frame: int, difference: NDArray[np.float32]) -> Change:
    rows, columns = (side // BLOCK for side in difference.shape)
    blocks = difference[: rows * BLOCK, : columns * BLOCK]
    means = cv2.resize(blocks, (columns, rows), interpolation=cv2.INTER_AREA)
    return Change(
        frame, float(difference.mean()), float(np.percentile(means, LIVELIEST)), float(np.median(means))
    )
