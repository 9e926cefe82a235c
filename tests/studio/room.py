"""The studio's room: a floor, a wall, a yardstick in the subject plane and plumb lines, in view coordinates.

Room marks (metres): stick-top and stick-foot, 36 in apart, upright in the subject plane; door-top, door-foot
and cord-top, cord-foot, two plumb lines on the wall; wall-a to wall-d, a rectangle of 48 by 36 in taped on
the wall, clockwise from top left.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache

import cv2
import numpy as np
from numpy.typing import NDArray

from tests.studio.camera import Camera

Picture = NDArray[np.uint8]
Points = NDArray[np.float64]
INCH = 0.0254
PX_PER_METRE = 160  # of the painted wall and floor
WALL_WIDTH, WALL_HEIGHT, FLOOR_FRONT = 9.0, 3.6, 1.9


@dataclass(frozen=True)
class Room:
    """wall: how far the wall is behind the subject plane. stick: where the stick is, r in m.

    across: how far to the right all that hangs on the wall is moved. cord: how far the cord hangs before it.
    """

    wall: float = 1.6
    stick: float = -1.05
    across: float = 0.0
    cord: float = 0.03
    seed: int = 3

    @property
    def marks(self) -> dict[str, Points]:
        w, a = -self.wall, self.across
        left, top = a - 24 * INCH, 80 * INCH
        places = {
            "stick-top": (self.stick, 40 * INCH, 0.0),
            "stick-foot": (self.stick, 4 * INCH, 0.0),
            "door-top": (a + 1.35, 2.03, w),
            "door-foot": (a + 1.35, 0.17, w),
            "cord-top": (a - 1.55, 2.20, w + self.cord),
            "cord-foot": (a - 1.55, 0.30, w + self.cord),
            "wall-a": (left, top, w),
            "wall-b": (left + 48 * INCH, top, w),
            "wall-c": (left + 48 * INCH, top - 36 * INCH, w),
            "wall-d": (left, top - 36 * INCH, w),
        }
        return {name: np.array(place) for name, place in places.items()}

    def picture(self, camera: Camera) -> Picture:
        """The empty room as the camera sees it, RGB."""
        ideal, margin = self._without_lens(camera)
        if not camera.k1 and not camera.k2:
            return ideal
        return _through_lens(ideal, margin, camera)

    def _without_lens(self, camera: Camera) -> tuple[Picture, int]:
        margin = round(0.15 * max(camera.size)) if camera.k1 or camera.k2 else 0
        size = (camera.size[0] + 2 * margin, camera.size[1] + 2 * margin)
        bare = Camera(
            camera.position, camera.yaw, camera.pitch, camera.roll, camera.focal, size,
            (camera.middle[0] + margin, camera.middle[1] + margin),
        )  # fmt: skip
        canvas = np.full((size[1], size[0], 3), 40, np.uint8)
        half, w = WALL_WIDTH / 2, -self.wall
        front = min(FLOOR_FRONT, camera.position[2] - 0.6)
        planes = (
            (self._floor(front), [(-half, 0, w), (half, 0, w), (half, 0, front), (-half, 0, front)]),
            (
                self._wall(),
                [(-half, WALL_HEIGHT, w), (half, WALL_HEIGHT, w), (half, 0, w), (-half, 0, w)],
            ),
        )
        for painted, corners in planes:
            height, width = painted.shape[:2]
            # cv2 counts from the first pixel's centre, the picture from its corner
            source = np.array([[0, 0], [width, 0], [width, height], [0, height]], np.float32) - 0.5
            target = (bare.project(np.array(corners)) - 0.5).astype(np.float32)
            turn = cv2.getPerspectiveTransform(source, target)
            cv2.warpPerspective(
                painted, turn, size, dst=canvas, flags=cv2.INTER_LINEAR, borderMode=cv2.BORDER_TRANSPARENT
            )
        return canvas, margin

    def _wall(self) -> Picture:
        paper = _plaster((WALL_HEIGHT, WALL_WIDTH), (196, 186, 168), self.seed).copy()
        draw = _Painter(paper, WALL_WIDTH / 2, WALL_HEIGHT)
        marks = self.marks
        for x in np.arange(-4.2, 4.3, 12 * INCH):
            draw.line((x, 0), (x, WALL_HEIGHT), (216, 210, 196), 2)
        for y in np.arange(12 * INCH, WALL_HEIGHT, 12 * INCH):
            draw.line((-WALL_WIDTH / 2, y), (WALL_WIDTH / 2, y), (216, 210, 196), 2)
        x = self.across
        draw.box((x + 1.35, 0.06), (x + 2.25, 2.03), (120, 92, 66), -1)
        draw.box((x + 1.35, 0.06), (x + 2.25, 2.03), (70, 52, 38), 5)
        corners = [marks[f"wall-{c}"] for c in "abcd"]
        for a, b in zip(corners, [*corners[1:], corners[0]], strict=True):
            draw.line((a[0], a[1]), (b[0], b[1]), (46, 58, 70), 4)
        draw.box((x - 2.5, 1.2), (x - 1.9, 1.9), (72, 92, 96), -1)
        draw.box((x + 0.75, 1.45), (x + 1.12, 1.95), (168, 120, 84), -1)
        return paper

    def _floor(self, front: float) -> Picture:
        boards = _plaster((front + self.wall, WALL_WIDTH), (128, 104, 78), self.seed + 1).copy()
        draw = _Painter(boards, WALL_WIDTH / 2, self.wall, down=True)
        for x in np.arange(-4.5, 4.5, 0.18):
            draw.line((x, -self.wall), (x, front), (98, 78, 58), 2)
        draw.box((-1.0, -0.5), (1.0, 1.2), (66, 104, 72), -1)
        return boards


class _Painter:
    """Draws on a painted plane in metres; the plane's first column lies `left` metres left of r = 0."""

    def __init__(self, canvas: Picture, left: float, top: float, down: bool = False) -> None:
        self._canvas, self._left, self._top, self._down = canvas, left, top, down

    def _at(self, point: tuple[float, ...]) -> tuple[int, int]:
        x = (point[0] + self._left) * PX_PER_METRE
        y = (point[1] + self._top if self._down else self._top - point[1]) * PX_PER_METRE
        return round((x - 0.5) * 16), round((y - 0.5) * 16)

    def line(self, a: tuple[float, ...], b: tuple[float, ...], colour: tuple[int, ...], width: int) -> None:
        cv2.line(self._canvas, self._at(a), self._at(b), colour, width, cv2.LINE_AA, 4)

    def box(self, a: tuple[float, ...], b: tuple[float, ...], colour: tuple[int, ...], width: int) -> None:
        cv2.rectangle(self._canvas, self._at(a), self._at(b), colour, width, cv2.LINE_AA, 4)


@lru_cache(maxsize=8)  # for a camera that sways the room is drawn anew in each picture
def _plaster(size: tuple[float, float], colour: tuple[int, int, int], seed: int) -> Picture:
    """A plane of one colour with stains of several sizes, so that image features can be found on it."""
    rng = np.random.default_rng(seed)
    height, width = (round(side * PX_PER_METRE) for side in size)
    stains = np.zeros((height, width), np.float32)
    for cell, strength in ((3, 9.0), (9, 12.0), (40, 8.0)):
        coarse = rng.standard_normal((height // cell + 2, width // cell + 2)).astype(np.float32)
        stains += strength * cv2.resize(coarse, (width, height), interpolation=cv2.INTER_CUBIC)
    return np.asarray(np.clip(np.array(colour, np.float32) + stains[..., None], 0, 255).astype(np.uint8))


def _through_lens(ideal: Picture, margin: int, camera: Camera) -> Picture:
    """The picture that the real lens makes of one drawn without distortion."""
    width, height = camera.size
    cx, cy = camera.middle
    x, y = np.meshgrid(np.arange(width) + 0.5 - cx, np.arange(height) + 0.5 - cy)
    bent = np.hypot(x, y) / camera.focal
    straight = bent.copy()
    for _ in range(25):
        straight = bent / (1 + camera.k1 * straight**2 + camera.k2 * straight**4)
    ratio = np.divide(straight, bent, out=np.ones_like(bent), where=bent > 0)
    back_x = (x * ratio + cx + margin - 0.5).astype(np.float32)
    back_y = (y * ratio + cy + margin - 0.5).astype(np.float32)
    return np.asarray(cv2.remap(ideal, back_x, back_y, cv2.INTER_LINEAR))
