"""Where in a picture a person is, as a square around them.

The network says for each of its 2254 places how sure it is of a person there, and where the middle of the
hips and a point of the circle around the whole body lie.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache

import numpy as np
from numpy.typing import NDArray

from lessonpress.footage.pose.running import person_network
from lessonpress.footage.pose.square import Picture, Square, reduced

CELLS = ((28, 2), (14, 2), (7, 6))  # places in a row, and how many times each
VALUES = 12  # of each place: a box, then four points
HIPS, CIRCLE = 2, 3  # which pairs of values are those points
ROOM = 1.25  # of the circle, so that hands and feet are inside
SURE = 0.6  # of 1; people of the studio's films .66 and more, pictures without any .58 and less


@dataclass(frozen=True)
class Person:
    """sure: 0 to 1."""

    square: Square
    sure: float


def person_in(picture: Picture) -> Person:
    """The surest person of a picture, however unsure."""
    network = person_network()
    height, width = picture.shape[:2]
    whole = Square((width / 2, height / 2), float(max(height, width)))
    small, scale = reduced(picture, whole.side, network.side)
    cut = np.asarray(whole.cut(small, scale, network.side) / 127.5 - 1, dtype=np.float32)
    places = _places()
    boxes, scores = network.run(cut, (1, len(places), VALUES), (1, len(places), 1))
    best = int(scores[0, :, 0].argmax())
    points = boxes[0, best].reshape(-1, 2) + places[best] * network.side
    hips, circle = whole.back(points[[HIPS, CIRCLE]].astype(np.float64), network.side)
    side = 2 * ROOM * float(np.linalg.norm(circle - hips))
    sure = 1 / (1 + np.exp(-np.clip(float(scores[0, best, 0]), -50, 50)))
    return Person(Square((float(hips[0]), float(hips[1])), max(side, 1.0)), float(sure))


@cache
def _places() -> NDArray[np.float64]:
    """(2254, 2): the middle of each place, of the picture's side."""
    rows = []
    for cells, times in CELLS:
        down, across = np.mgrid[:cells, :cells]
        middles = (np.stack([across, down], axis=-1).reshape(-1, 2) + 0.5) / cells
        rows.append(middles.repeat(times, axis=0))
    return np.concatenate(rows)
