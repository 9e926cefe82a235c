"""The two networks, run on the processor by `ai-edge-litert`, an extra of the package.

Where they come from, and under which licence: `networks/README.md`. What goes in and comes out of them was
found by looking at the files and trying: their tensors have no names that say so.
"""

from __future__ import annotations

import os
from collections.abc import Iterator
from contextlib import contextmanager
from functools import cache
from importlib import import_module, util
from pathlib import Path
from threading import Lock
from typing import Any

import numpy as np
from numpy.typing import NDArray

Tensor = NDArray[np.float32]
FOLDER = Path(__file__).parent / "networks"
LIBRARY = "ai_edge_litert"
HOW_TO_GET_IT = "suggesting marks needs ai-edge-litert; `pip install 'lessonpress[suggest]'` installs it"


def can_suggest() -> bool:
    """Whether the extra is installed; it is not loaded to find out."""
    return util.find_spec(LIBRARY) is not None


class Network:
    """A network that takes one picture: float32 (1, side, side, 3)."""

    def __init__(self, name: str) -> None:
        with _quiet():
            made = import_module(f"{LIBRARY}.interpreter").Interpreter
            self._interpreter: Any = made(model_path=str(FOLDER / name), num_threads=1)
            self._interpreter.allocate_tensors()
        entrance = self._interpreter.get_input_details()[0]
        self._entrance: int = entrance["index"]
        self._lock = Lock()  # the desk asks from several threads
        self.side = int(entrance["shape"][1])
        exits = self._interpreter.get_output_details()
        self._exits: dict[tuple[int, ...], int] = {
            tuple(map(int, one["shape"])): one["index"] for one in exits
        }

    def run(self, picture: Tensor, *shapes: tuple[int, ...]) -> list[Tensor]:
        """What comes out for a picture (side, side, 3): the tensors of these shapes, in their order."""
        with self._lock:
            self._interpreter.set_tensor(self._entrance, picture[None].astype(np.float32))
            self._interpreter.invoke()
            return [np.array(self._interpreter.get_tensor(self._exits[shape])) for shape in shapes]


@contextmanager
def _quiet() -> Iterator[None]:
    """Keeps from standard error what the library writes there about itself, past Python."""
    kept = os.dup(2)
    nowhere = os.open(os.devnull, os.O_WRONLY)
    try:
        os.dup2(nowhere, 2)
        yield
    finally:
        os.dup2(kept, 2)
        os.close(kept)
        os.close(nowhere)


@cache
def person_network() -> Network:
    return Network("pose_detection.tflite")


@cache
def body_network() -> Network:
    return Network("pose_landmark_full.tflite")
