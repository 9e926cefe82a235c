"""From px of the picture to CSS px of the picture as shown, mirrored or not."""

from __future__ import annotations

from dataclasses import dataclass

from lessonpress.records import Point

Box = tuple[float, float, float, float]  # left, top, right, bottom


@dataclass(frozen=True)
class Layout:
    """A picture's crop laid out `width` CSS px wide.

    Mirroring flips positions and angles about the upright axis of the crop, and nothing else.
    """

    crop: Box
    width: float
    mirrored: bool = False

    @property
    def scale(self) -> float:
        """CSS px per px of the picture."""
        return self.width / (self.crop[2] - self.crop[0])

    @property
    def height(self) -> float:
        return (self.crop[3] - self.crop[1]) * self.scale

    @property
    def frame(self) -> Box:
        return (0.0, 0.0, self.width, self.height)

    def point(self, point: Point) -> Point:
        x = (point[0] - self.crop[0]) * self.scale
        return (self.width - x if self.mirrored else x, (point[1] - self.crop[1]) * self.scale)

    def back(self, point: Point) -> Point:
        """The picture's point that is shown at a CSS point."""
        x = self.width - point[0] if self.mirrored else point[0]
        return (x / self.scale + self.crop[0], point[1] / self.scale + self.crop[1])

    def angle(self, degrees: float) -> float:
        """A direction in the picture (degrees clockwise from its right) as shown."""
        return 180.0 - degrees if self.mirrored else degrees

    def box(self, box: Box) -> Box:
        (x0, y0), (x1, y1) = self.point((box[0], box[1])), self.point((box[2], box[3]))
        return (min(x0, x1), y0, max(x0, x1), y1)


def inset(box: Box, *, top: float = 0.0, bottom: float = 0.0, sides: float = 0.0) -> Box:
    return (box[0] + sides, box[1] + top, box[2] - sides, box[3] - bottom)


def inside(point: Point, box: Box) -> bool:
    return box[0] <= point[0] <= box[2] and box[1] <= point[1] <= box[3]
