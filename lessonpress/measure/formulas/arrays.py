"""The arrays that formulas and models work on: one row for each row of a batch of inputs."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

FloatArray = NDArray[np.float64]
# in the room m right (or toward the goal) and m up; in a picture px right and px up of its centre
Pair = tuple[FloatArray, FloatArray]
