"""The trade's marks from the network's points.

The network's points are those that people drew on photographs; the trade's are joints and places of the
body. Each mark is one of its points, or the middle of two, moved by a few vectors of the body itself, each
times a number that was learnt. So a correction turns, grows and is mirrored with the body. What the network
does not know (C7, navel, crown, grip) is found in the same way from what it knows: the navel lies ahead of
the hips and C7 behind the shoulders, whichever way these face just then.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from lessonpress.records import PAIRED, Hand, Point

Floats = NDArray[np.float64]

FIRST = {"shoulder": 11, "elbow": 13, "wrist": 15, "hip": 23, "knee": 25, "ankle": 27, "heel": 29, "toe": 31}
TRUNK = (11, 12, 23, 24, 25, 26)  # shoulders, hips and knees
LIMBS = (13, 14, 15, 16, 27, 28, 29, 30, 31, 32)  # elbows, wrists and feet
NOSE, EARS, FINGERS = 0, (7, 8), (19, 20)
SINGLE = ("navel", "c7", "head", "crown", "implement-grip")
PAIRED_SUGGESTED = tuple(f"{side}-{part}" for part in PAIRED for side in ("lead", "trail"))
SUGGESTED = PAIRED_SUGGESTED + SINGLE


@dataclass(frozen=True)
class Design:
    """start: (n, 2), the point from which a mark is found. ways: (n, 2, k), the vectors it is moved by."""

    start: Floats
    ways: Floats

    def moved(self, by: Sequence[float]) -> Floats:
        return np.asarray(self.start + self.ways @ np.asarray(by))


def part_of(mark: str) -> str:
    """What a mark and its counterpart on the other side are both learnt as."""
    return mark if mark in SINGLE else mark.partition("-")[2]


def places(points: Floats, hand: Hand, by: Mapping[str, Sequence[float]]) -> dict[str, Floats]:
    """Each mark's place (n, 2) in n looks. points: (n, 33, 3), the lead side first. by: the numbers of each
    part.
    """
    body = _Body(points, hand)
    return {mark: body.design(mark).moved(by[part_of(mark)]) for mark in SUGGESTED if part_of(mark) in by}


def design(points: Floats, hand: Hand, mark: str) -> Design:
    """What a mark is found from. points: (n, 33, 3), the lead side first."""
    return _Body(points, hand).design(mark)


def posture(points: Floats) -> tuple[Point, ...]:
    """Where the middle look has the points of the trunk, and after them those of the limbs.

    points: (n, 33, 3), the lead side first.
    """
    return tuple((float(x), float(y)) for x, y in np.median(points[:, TRUNK + LIMBS, :2], axis=0))


class _Body:
    def __init__(self, points: Floats, hand: Hand) -> None:
        self._points = points
        self._left = 1.0 if hand == "right" else -1.0  # where the lead side is the golfer's left one
        self._shoulders, self._hips = self._middle(11, 12), self._middle(23, 24)
        self._torso = self._shoulders - self._hips

    def _at(self, number: int) -> Floats:
        return np.asarray(self._points[:, number])

    def _middle(self, one: int, other: int) -> Floats:
        return np.asarray((self._at(one) + self._at(other)) / 2)

    def _ahead(self, across: Floats) -> Floats:
        """The way that a line from trail to lead faces, as long as it, at right angles to the torso too.

        With x to the right, y down and z away from the camera, left minus right times up is ahead.
        """
        up = self._torso / np.linalg.norm(self._torso, axis=1, keepdims=True)
        return np.asarray(self._left * np.cross(across, up))

    def design(self, mark: str) -> Design:
        start, ways = self._single(mark) if mark in SINGLE else self._paired(mark)
        return Design(start[:, :2], np.stack([way[:, :2] for way in ways], axis=-1))

    def _paired(self, mark: str) -> tuple[Floats, list[Floats]]:
        side, _, part = mark.partition("-")
        own, other = (0, 1) if side == "lead" else (1, 0)
        limb = {name: self._at(number + own) for name, number in FIRST.items()}
        start = limb[part]
        across = start - self._at(FIRST[part] + other)
        sides = self._at(FIRST[part]) - self._at(FIRST[part] + 1)
        ways = {
            "shoulder": [across, self._torso, limb["elbow"] - start, self._ahead(across)],
            "elbow": [limb["shoulder"] - start, limb["wrist"] - start],
            "wrist": [limb["elbow"] - start, self._at(17 + own) - start, across],
            "hip": [across, self._torso, limb["knee"] - start, sides],
            "knee": [limb["hip"] - start, limb["ankle"] - start, self._at(23 + own) - self._at(23 + other)],
            "ankle": [limb["knee"] - start, limb["toe"] - start, limb["heel"] - start],
            "heel": [limb["knee"] - limb["ankle"], limb["toe"] - start, limb["ankle"] - start],
            "toe": [limb["knee"] - limb["ankle"], limb["heel"] - start, limb["ankle"] - start],
        }
        return start, ways[part]

    def _single(self, mark: str) -> tuple[Floats, list[Floats]]:
        ears, nose = self._middle(*EARS), self._at(NOSE)
        if mark == "navel":
            return self._hips, [self._torso, self._ahead(self._at(23) - self._at(24))]
        if mark == "c7":
            ahead = self._ahead(self._at(11) - self._at(12))
            return self._shoulders, [self._torso, ears - self._shoulders, ahead]
        if mark == "implement-grip":
            wrists = self._middle(15, 16)
            return wrists, [self._middle(*FINGERS) - wrists, self._middle(13, 14) - wrists, self._torso]
        return ears, [nose - ears, ears - self._shoulders]
