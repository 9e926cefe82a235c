"""A store on disk of a clip's grey pictures, read back in any order.

Registration and tracking go forward and backward through the same pictures; a few hundred large ones would
not fit a laptop's memory.
"""

from __future__ import annotations

import tempfile
from collections.abc import Iterable
from types import TracebackType

import cv2
import numpy as np
from numpy.typing import NDArray

Grey = NDArray[np.uint8]


class FrameStore:
    """A read-once stream of (frame, RGB picture) made into grey pictures to be asked for by frame.

    with FrameStore(pictures) as store:
        store[12]         # uint8 (h, w)
    """

    def __init__(self, pictures: Iterable[tuple[int, NDArray[np.uint8]]]) -> None:
        self._file = tempfile.TemporaryFile()  # noqa: SIM115 (closed by __exit__)
        self._position: dict[int, int] = {}
        self.shape = (0, 0)
        for frame, picture in pictures:
            grey = cv2.cvtColor(picture, cv2.COLOR_RGB2GRAY) if picture.ndim == 3 else picture
            self.shape = (grey.shape[0], grey.shape[1])
            self._position[frame] = len(self._position)
            self._file.write(np.ascontiguousarray(grey).data)
        self._file.flush()

    @property
    def frames(self) -> tuple[int, ...]:
        return tuple(sorted(self._position))

    def __contains__(self, frame: object) -> bool:
        return frame in self._position

    def __getitem__(self, frame: int) -> Grey:
        height, width = self.shape
        self._file.seek(self._position[frame] * height * width)
        return np.frombuffer(self._file.read(height * width), dtype=np.uint8).reshape(height, width)

    def __enter__(self) -> FrameStore:
        return self

    def __exit__(
        self,
        kind: type[BaseException] | None,
        fault: BaseException | None,
        trace: TracebackType | None,
    ) -> None:
        self._file.close()
