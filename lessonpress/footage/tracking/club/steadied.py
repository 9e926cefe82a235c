"""The pictures of a camera that was held in the hand, each laid onto one of them by what the room shows.

Then the room is at rest in them, and what moves differs from it (`backdrop.py`). Where the camera moved by
nothing that can be seen, the pictures are left as they are.
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

import cv2
import numpy as np
from numpy.typing import NDArray

from lessonpress.footage.camera.motion import CameraMotion, apply_matrix, motion_in
from lessonpress.footage.camera.stillness import judged
from lessonpress.footage.tracking.frame_store import FrameStore
from lessonpress.footage.tracking.halfpixel import matrix_to_opencv
from lessonpress.records import Point

SAMPLE = 9  # pictures by which it is seen whether the camera moved at all
EDGE = 14.0  # px from the edge of a picture as it was filmed: what ends there may go on outside


@dataclass(frozen=True)
class Steadied:
    """Pictures by frame and points of them, as the camera of one of them would have had both. motion: None
    where it did not move. frames: those of which that is known.
    """

    store: FrameStore
    frames: tuple[int, ...]
    motion: CameraMotion | None = field(repr=False)

    @property
    def shape(self) -> tuple[int, int]:
        return self.store.shape

    def __getitem__(self, frame: int) -> NDArray[np.uint8]:
        matrix = self._matrix(frame)
        if matrix is None:
            return self.store[frame]
        size = self.shape[::-1]
        onto = matrix_to_opencv(matrix)
        laid = cv2.warpPerspective(self.store[frame], onto, size, borderMode=cv2.BORDER_REPLICATE)
        return np.asarray(laid, dtype=np.uint8)

    def onto(self, frame: int, point: Point) -> Point:
        """A point of a picture as filmed, in the steady one."""
        matrix = self._matrix(frame)
        return point if matrix is None else _carried(matrix, point)

    def back(self, frame: int, point: Point) -> Point:
        """A point of the steady picture, in the one as filmed."""
        matrix = self._matrix(frame)
        return point if matrix is None else _carried(np.asarray(np.linalg.inv(matrix)), point)

    def u(self, frame: int, point: Point) -> float:
        """px, with which a point of a picture as filmed is laid there."""
        known = 0.0 if self.motion is None else self.motion.uncertainty(frame, point)
        return known if isinstance(known, float) else math.inf

    def at_edge(self, point: Point) -> bool:
        """Whether a point of a picture as filmed lies at its edge or outside; not asked of a still camera."""
        height, width = self.shape
        return self.motion is not None and min(*point, width - point[0], height - point[1]) < EDGE

    def _matrix(self, frame: int) -> NDArray[np.float64] | None:
        if self.motion is None:
            return None
        matrix = self.motion.to_reference(frame)
        assert isinstance(matrix, np.ndarray)
        return matrix


def steadied(store: FrameStore, frames: Sequence[int], masks: Mapping[int, Sequence[Point]]) -> Steadied:
    """The pictures `frames` of the film, steady. masks: points of the subject, by frame."""
    middle = frames[len(frames) // 2]
    sample = [frames[i] for i in np.unique(np.linspace(0, len(frames) - 1, SAMPLE).astype(int))]
    tried = judged(motion_in(store, sorted({*sample, middle}), middle, masks))
    if tried.model == "still":
        return Steadied(store, tuple(frames), None)
    motion = judged(motion_in(store, frames, middle, masks))
    if motion.model == "still":
        return Steadied(store, tuple(frames), None)
    known = tuple(frame for frame in frames if isinstance(motion.to_reference(frame), np.ndarray))
    return Steadied(store, known, motion)


def _carried(matrix: NDArray[np.float64], point: Point) -> Point:
    x, y = apply_matrix(matrix, np.array([point]))[0]
    return float(x), float(y)
