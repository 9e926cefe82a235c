"""Drawn footage with known truth: brightness is a formula of the place, so no resampling blurs what is true.

Pictures are W × H px, not square, so that a swapped x and y cannot pass. Points count from the outer corner
of the first pixel: the picture is the formula's value at pixel centres, (column + 0.5, line + 0.5).
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from functools import cache

import numpy as np
from numpy.typing import NDArray

W, H = 420, 260
Floats = NDArray[np.float64]
Picture = NDArray[np.uint8]


@dataclass(frozen=True)
class Surface:
    """A pattern of plane waves: grey levels of mean 120. across, down: rad a px, of each wave."""

    across: Floats
    down: Floats
    phases: Floats
    height: float

    def __call__(self, x: Floats, y: Floats) -> Floats:
        total = np.full(np.shape(x), 120.0)
        for a, b, phase in zip(self.across, self.down, self.phases, strict=True):
            total += self.height * np.sin(a * x + b * y + phase)
        return total

    def at_centres(self, affine: Floats) -> Floats:
        """The same where the matrix, whose last row is 0 0 1, carries the pixel centres to.

        A wave's phase is then the sum of one of the column and one of the line, and its sine that of a sum.
        """
        (a, b, e), (c, d, f) = affine[:2]
        columns = np.outer(a * self.across + c * self.down, np.arange(W) + 0.5)
        columns += (e * self.across + f * self.down + self.phases)[:, None]
        lines = np.outer(b * self.across + d * self.down, np.arange(H) + 0.5)
        sines = np.cos(lines).T @ np.sin(columns) + np.sin(lines).T @ np.cos(columns)
        return np.asarray(120.0 + self.height * sines)


def surface(seed: int, waves: int = 26) -> Surface:
    """A random pattern of plane waves, 10 to 90 px long, of deviation 35."""
    rng = np.random.default_rng(seed)
    lengths = np.exp(rng.uniform(np.log(10), np.log(90), waves))
    headings, phases = rng.uniform(0, np.pi, waves), rng.uniform(0, 2 * np.pi, waves)
    across, down = 2 * np.pi / lengths * np.cos(headings), 2 * np.pi / lengths * np.sin(headings)
    return Surface(across, down, phases, 35 * float(np.sqrt(2 / waves)))


def centres() -> tuple[Floats, Floats]:
    lines, columns = np.mgrid[0:H, 0:W]
    return columns + 0.5, lines + 0.5


def developed(levels: Floats, noise: float, rng: np.random.Generator) -> Picture:
    grey = np.clip(np.rint(levels + rng.normal(size=levels.shape) * noise), 0, 255).astype(np.uint8)
    return np.repeat(grey[:, :, None], 3, axis=2)


def through(matrix: Floats, room: Surface) -> Floats:
    """The room as a camera sees it whose picture points are carried into the room by a 3×3 matrix."""
    if np.array_equal(matrix[2], (0, 0, 1)):
        return room.at_centres(matrix)
    x, y = centres()
    carried = np.tensordot(matrix, np.stack([x, y, np.ones_like(x)]), axes=1)
    return room(carried[0] / carried[2], carried[1] / carried[2])


def disc(
    levels: Floats, centre: tuple[float, float], radius: float, angle: float, pattern: Surface
) -> Floats:
    """Levels with a patterned disc on them, turned by `angle` rad, its rim soft over two pixels."""
    left, right = (int(np.clip(centre[0] + side * (radius + 3), 0, W)) for side in (-1, 1))
    top, bottom = (int(np.clip(centre[1] + side * (radius + 3), 0, H)) for side in (-1, 1))
    lines, columns = np.mgrid[top:bottom, left:right] + 0.5
    dx, dy = columns - centre[0], lines - centre[1]
    cover = np.clip((radius - np.hypot(dx, dy)) / 2 + 0.5, 0, 1)
    c, s = np.cos(angle), np.sin(angle)
    drawn = levels.copy()
    part = drawn[top:bottom, left:right]
    part[...] = part * (1 - cover) + pattern(c * dx + s * dy + 500, c * dy - s * dx + 500) * cover
    return drawn


def rolling(
    count: int,
    place: Callable[[int], tuple[float, float]],
    *,
    noise: float = 2.0,
    spin: float = 0.0,
    seed: int = 1,
) -> Iterator[tuple[int, Picture]]:
    """(frame, picture) of a patterned disc, radius 30 px, that goes where `place` says before a dim room."""
    rng = np.random.default_rng(seed)
    room = surface(seed + 100)(*centres()) * 0.3 + 60
    pattern = surface(seed + 200)
    for frame in range(count):
        yield frame, developed(disc(room, place(frame), 30, spin * frame, pattern), noise, rng)


def grey(picture: Picture) -> Picture:
    """A drawn picture without its channels, which are equal."""
    assert np.ptp(picture, axis=2).max() == 0
    return np.asarray(picture[:, :, 0])


def swinging(noise: float = 2.0, still: int = 12, seed: int = 3) -> Iterator[Picture]:
    """A rod with a ball at its end: at rest, back in 48 pictures, down in 16, on in 30, at rest.

    It rests to frame still − 1, is at the top at still + 47, and fastest at still + 63.
    """
    rng = np.random.default_rng(seed)
    poses = _poses(seed)
    for levels in [poses[0]] * still + list(poses) + [poses[-1]] * still:
        yield developed(levels, noise, rng)


@cache
def _poses(seed: int) -> tuple[Floats, ...]:
    """The 94 pictures of the swing itself, as grey levels."""
    back = -1.3 * (1 - np.cos(np.linspace(0, np.pi, 49)[1:]))
    down = -2.6 + 2.6 * np.linspace(0, 1, 17)[1:] ** 2
    on = 3.0 * (1 - (1 - np.linspace(0, 1, 31)[1:]) ** 3.2)
    x, y = centres()
    room = surface(seed)(x, y) * 0.3 + 60
    found = []
    for angle in [*back, *down, *on]:
        along = np.clip(np.sin(angle) * (x - 210) + np.cos(angle) * (y - 110), 0, 100)
        off = np.hypot(x - 210 - along * np.sin(angle), y - 110 - along * np.cos(angle))
        ball = np.hypot(x - 210 - 100 * np.sin(angle), y - 110 - 100 * np.cos(angle))
        found.append(np.where(ball < 9, 230.0, np.where(off < 4, 20.0, room)))
    return tuple(found)
