"""What an overlay sees of its picture: the clip's survey, the frame, the crop and the words."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass, field

from lessonpress.measure import At, Survey
from lessonpress.overlays.parts.plane import Line, piece_near
from lessonpress.overlays.words import Words
from lessonpress.records import Instant, PictureBox, Point, Units


@dataclass(frozen=True)
class Context:
    """One panel as its overlays see it; figures builds it.

    frame: the panel's frame. frame_of: the frame an instant means in this clip. size, crop: px of the
    picture. units: of printed lengths; site_units: of the site, where a reader has others.
    instant: the panel's instant in words, "at the top of the backswing".
    mirrored: whether the picture is shown turned about; places are those of the picture as filmed.
    """

    survey: Survey
    frame: int
    frame_of: Callable[[Instant], int]
    size: tuple[int, int]
    crop: PictureBox
    units: Units = "in"
    words: Words = field(default_factory=Words)
    instant: str = ""
    mirrored: bool = False
    site_units: Units | None = None

    def frame_at(self, instant: Instant | None) -> int:
        """The frame an instant means; the panel's own frame for None."""
        return self.frame if instant is None else self.frame_of(instant)

    def at(self, mark: str, instant: Instant | None = None) -> At:
        return At(mark, self.frame_at(instant))

    def position(self, mark: str, instant: Instant | None = None) -> Point:
        """Where the mark was in the room at an instant, as this panel's picture shows that place."""
        return self.place_of(self.at(mark, instant))

    def place_of(self, at: At) -> Point:
        return self.survey.position(at, self.frame)

    def wanted(self, needed: Iterable[At]) -> tuple[At, ...]:
        """Those of the marks needed that are not placed or tracked on their frame yet."""
        return tuple(at for at in needed if not self.seen(at))

    def seen(self, at: At) -> bool:
        """Whether the mark, or every mark of the middle, is placed or tracked on its frame."""
        try:
            self.survey.position(at)
        except KeyError:
            return False
        return True

    def vertical(self, point: Point) -> tuple[Point, ...]:
        """The room's vertical through a point of the picture, from far above it to far below."""
        return tuple(sorted(self.survey.vertical(point, self.frame), key=lambda far: far[1]))

    def level(self, point: Point) -> tuple[Point, ...]:
        """The room's level through a point of the picture, from far left of it to far right."""
        return tuple(sorted(self.survey.level(point, self.frame)))

    def plumb_piece(self, point: Point) -> Line:
        """The room's vertical close to a point: upper end, lower end."""
        return piece_near(self.vertical(point), point)

    def level_piece(self, point: Point) -> Line:
        """The room's level close to a point: left end, right end."""
        return piece_near(self.level(point), point)

    def px_per_metre(self, mark: str, instant: Instant | None = None) -> float | None:
        """Px a metre of the subject plane where the mark is seen; None where the clip gives no lengths."""
        return self.survey.px_per_metre(self.at(mark, instant))

    @property
    def positive_right(self) -> int:
        """+1 where the level axis runs to the picture's right, -1 where it runs to its left."""
        return self.survey.setting.positive_right

    @property
    def crop_width(self) -> float:
        return self.crop[2] - self.crop[0]

    @property
    def crop_height(self) -> float:
        return self.crop[3] - self.crop[1]
