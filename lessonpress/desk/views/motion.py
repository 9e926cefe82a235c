"""How much changes from picture to picture, and how the camera moved."""

from __future__ import annotations

import json
import math
from dataclasses import astuple
from typing import Any

import numpy as np

from lessonpress.desk.http.responses import RequestError
from lessonpress.desk.views.clipview import roll_of
from lessonpress.desk.views.livesite import LiveSite
from lessonpress.footage import (
    CameraMotion,
    Change,
    FootageError,
    Unregistered,
    apply_matrix,
    picture_changes,
    take_greys,
)


def motion_json(live: LiveSite, name: str) -> dict[str, Any]:
    """What `GET /api/clips/CLIP/motion` answers."""
    return {"changes": [_row(change) for change in changes_of(live, name)]}


def changes_of(live: LiveSite, name: str) -> list[Change]:
    """How much each picture differs from the one before; kept. Raises RequestError."""
    roll = roll_of(live, live.clip(name))
    entry = live.cache.entry("desk-changes", (roll.index.fingerprint, roll.deinterlace))
    kept = entry.kept()
    if kept is not None:
        return [Change(*row) for row in json.loads(kept)]
    try:
        intact = roll.index.intact(deinterlace=roll.deinterlace)
        seen = picture_changes(take_greys(roll.video, roll.index, intact, deinterlace=roll.deinterlace))
    except FootageError as error:
        raise RequestError(422, error.reason, error.way_out) from error
    entry.keep(json.dumps([astuple(one) for one in seen]).encode())
    return seen


def _row(change: Change) -> list[float]:
    return [change.frame, round(change.mean, 3), round(change.most, 3)]


def camera_json(live: LiveSite, name: str) -> dict[str, Any]:
    """What `GET /api/clips/CLIP/camera` answers."""
    clip = live.clip(name)
    motion = live.study(clip).motion
    if motion is None:
        return {"reference": None, "model": None, "frames": [], "unregistered": []}
    moved, lost = [], []
    for frame in sorted(motion.frames):
        movement = _moved(motion, frame)
        if isinstance(movement, str):
            lost.append([frame, movement])
        else:
            moved.append([frame, *movement])
    return {"reference": motion.reference, "model": motion.model, "frames": moved, "unregistered": lost}


def _moved(motion: CameraMotion, frame: int) -> tuple[float, ...] | str:
    """Right and down px by which the picture's middle went, turn clockwise in deg, zoom; or why not known."""
    matrix = motion.to_reference(frame)
    if isinstance(matrix, Unregistered):
        return matrix.reason
    width, height = motion.size
    middle = np.array([[width / 2, height / 2], [width / 2 + 1, height / 2]])
    (x, y), (ahead_x, ahead_y) = apply_matrix(matrix, middle)
    across, down = ahead_x - x, ahead_y - y
    numbers = (
        x - width / 2,
        y - height / 2,
        math.degrees(math.atan2(down, across)),
        math.hypot(across, down),
    )
    return tuple(round(float(number), 4) for number in numbers)
