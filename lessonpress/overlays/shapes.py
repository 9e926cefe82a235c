"""What an overlay draws, in picture coordinates and without a word of SVG.

Positions, radii and band widths are px of the upright picture and scale with it. Strokes, signs (dots,
bobs, barbs, stops, ticks) and tags have sizes of their own in CSS px (the looks' table) and do not scale;
`drawing/` knows those sizes. Angles are degrees, measured in the picture from its x axis (right), positive
clockwise as seen, since y points down.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from lessonpress.records import Point, Reading

Colour = Literal["black", "blue", "vermilion", "green", "purple", "sky", "orange", "yellow"]
Dash = Literal["solid", "standing", "plumb", "angle", "circle", "then", "balance", "instead", "arc"]
Sign = Literal[
    "dot", "hollow", "bead", "bob", "hollow-bob", "barb", "stop", "tick", "oblique", "cross", "disc"
]
# drawn lowest first, in this order
Layer = Literal["band", "hatch", "standing", "live", "mark"]


@dataclass(frozen=True)
class Pen:
    colour: Colour
    core: float = 2.5  # CSS px
    dash: Dash = "solid"


@dataclass(frozen=True)
class Stroke:
    """An open or closed line through picture points; drawing clips it to the picture.

    through: it runs on to the plate's edge, so that its ends say nothing of where there is something to see.
    """

    points: tuple[Point, ...]
    pen: Pen
    layer: Layer = "live"
    closed: bool = False
    through: bool = False


@dataclass(frozen=True)
class Arc:
    """Part of a circle from angle `start` to `end`; double: two strokes 4.5 CSS px apart.

    free: its radius says nothing, so that drawing may choose a smaller one to part it from its like.
    """

    centre: Point
    radius: float
    start: float
    end: float
    pen: Pen
    double: bool = False
    layer: Layer = "live"
    free: bool = False


@dataclass(frozen=True)
class Area:
    """A filled shape: a band of ± (true to scale, never widened) or a hatched outline."""

    points: tuple[Point, ...]
    colour: Colour
    layer: Layer = "band"
    hatched: bool = False


@dataclass(frozen=True)
class Band:
    """A band of ± across a shift: `width` px of the picture along `angle`, 22 CSS px the other way."""

    centre: Point
    width: float
    angle: float
    colour: Colour


@dataclass(frozen=True)
class SignAt:
    """A sign of fixed size at a point.

    angle: where a barb points to, a bob hangs, a tick runs outward; for a stop or an oblique tick, the way
    of the line it ends. size: CSS px (radius of a round sign, length of any other) where the kind's differs
    from the sign's usual one, else None.
    """

    sign: Sign
    at: Point
    colour: Colour
    angle: float = 0.0
    size: float | None = None
    layer: Layer = "mark"


@dataclass(frozen=True)
class TagText:
    """What a tag says in a reading that is not the site's own."""

    words: str
    value: str
    pm: str


@dataclass(frozen=True)
class Tag:
    """What the plate letters beside an overlay; drawing finds it a place.

    anchor: the far end of what it names. Dense plates give up `words` first, then `pm`, then `value`, never
    the letter, which figures adds. on_line: a lone letter rides on the line at `anchor` (verticals);
    blank: a standing line's letter, ink on paper. otherwise: what it says in readings in which it is another.
    """

    anchor: Point
    colour: Colour
    words: str = ""
    value: str = ""
    pm: str = ""
    on_line: bool = False
    blank: bool = False
    otherwise: tuple[tuple[Reading, TagText], ...] = ()


Shape = Stroke | Arc | Area | Band | SignAt | Tag
