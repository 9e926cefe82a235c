"""A lesson bound to its clips: plates with their panels, drawn overlays, measures and sentences.

This is what drawing, pages and outlets read. It holds no pixels, no SVG and no HTML.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from datetime import date

from lessonpress.manuscript import Lesson, Site
from lessonpress.measure import Spot
from lessonpress.overlays import Colour, Shape
from lessonpress.records import Measure, Otherwise, PictureBox, Point


@dataclass(frozen=True)
class DrawnOverlay:
    """One overlay on one panel. `letter` is "" for kinds that carry none (grid).

    name_otherwise, sentence_otherwise: in readings in which they are others, as in all that follows.
    """

    letter: str
    kind: str
    colour: Colour
    shown: bool
    standing: bool
    name: str
    sentence: str
    shapes: tuple[Shape, ...]
    measure: Measure | None
    name_otherwise: Otherwise = ()
    sentence_otherwise: Otherwise = ()


@dataclass(frozen=True)
class Credit:
    """Who made the picture and what it may be used for, as the card says it."""

    text: str
    licence: str
    url: str | None = None


@dataclass(frozen=True)
class ScaleBar:
    """What the survey bar under a panel needs.

    px_per_metre: of the subject plane at the panel's frame. zero: picture x of the plate's own zero line.
    positive_right: +1 where the level axis runs to the picture's right. goal: what it runs toward.
    """

    px_per_metre: float
    zero: float
    positive_right: int
    goal: str


_LEADING_KINDS = ("frame",)  # a strip, a pair or a chart needs more width


@dataclass(frozen=True)
class Panel:
    """One picture of a plate with what is drawn on it.

    clip: the folder's name. title: of the clip, as readers are shown it. event: the event's name if the frame
    is one ("impact"), else "". label: its heading ("Impact", or "Frame 96"). seconds: real time
    since frame 0. keep_clear: boxes (head, hands, feet) for tags to avoid.
    """

    clip: str
    title: str
    frame: int
    event: str
    label: str
    seconds: float
    size: tuple[int, int]
    crop: PictureBox
    drawn: tuple[DrawnOverlay, ...]
    marks: tuple[Point, ...]
    keep_clear: tuple[PictureBox, ...]
    bar: ScaleBar | None
    credit: Credit
    alt: str
    mirrored: bool = False
    alt_otherwise: Otherwise = ()
    obscured: tuple[tuple[Point, float], ...] = ()  # centre and radius, px, blurred in everything published


@dataclass(frozen=True)
class Loop:
    """A stretch of a clip, `slowed` times slower than life. shown: seconds that each panel stays."""

    panels: tuple[Panel, ...]
    shown: tuple[float, ...]
    slowed: float

    @property
    def seconds(self) -> float:
        """How long one round takes."""
        return sum(self.shown)


@dataclass(frozen=True)
class Key:
    """A line under a plate: chips with letters, words, and the ids of the numbers they carry."""

    letters: tuple[str, ...]
    colour: Colour
    blank: bool
    words: str
    measures: tuple[str, ...]
    words_otherwise: Otherwise = ()


@dataclass(frozen=True)
class ChartPoint:
    """One number of a chart. label: the lesson's or the clip's title; lesson: its name or None."""

    label: str
    on: date
    measure: Measure
    lesson: str | None = None


@dataclass(frozen=True)
class Chart:
    """One measure over time. points: by date, each with a number. unit: "" for none.

    credits: whose footage was measured, each once.
    """

    name: str
    unit: str
    points: tuple[ChartPoint, ...]
    credits: tuple[Credit, ...] = ()


@dataclass(frozen=True)
class Moment:
    """An instant of a plan. label: "Top". spots: the marks that are known well enough to stand on it."""

    label: str
    spots: tuple[Spot, ...]


@dataclass(frozen=True)
class FloorPlan:
    """A swing from above. target: +1 where the target lies to the right of the drawing, −1 to the left.

    credits: whose footage was measured, each once.
    """

    name: str
    moments: tuple[Moment, ...]
    target: int
    credits: tuple[Credit, ...] = ()


@dataclass(frozen=True)
class PlatePictures:
    """A plate's pictures, the same at any place of its lesson's text: all that are stepped through, in order.

    several: whether there is more than one panel. leads: whether the plate is beside the title.
    """

    id: str
    kind: str
    panels: tuple[Panel, ...]
    between: tuple[Panel, ...]
    several: bool
    leads: bool


@dataclass(frozen=True)
class Plate:
    """A figure as printed. caption is Markdown; description is plain text in paragraphs.

    remarks: a pair's comparisons in words. chart: of a progress figure, plan: of a plan, neither of which has
    panels. loop: of a loop, whose one panel is its first picture. between: the pictures of a strip between
    its panels, drawn and not measured, and shown only as the strip is stepped.
    """

    id: str
    kind: str
    numeral: str
    line: int  # of the block's fence in the lesson's file
    panels: tuple[Panel, ...]
    caption: str
    caption_line: int
    alt: str
    description: str
    mirrored: bool
    keys: tuple[Key, ...]
    measures: tuple[str, ...]
    remarks: tuple[str, ...] = ()
    chart: Chart | None = None
    plan: FloorPlan | None = None
    loop: Loop | None = None
    alt_otherwise: Otherwise = ()
    description_otherwise: Otherwise = ()
    remarks_otherwise: tuple[Otherwise, ...] = ()
    between: tuple[Panel, ...] = ()

    @property
    def drawing(self) -> Chart | FloorPlan | None:
        """What is drawn without a picture."""
        return self.chart or self.plan

    @property
    def credits(self) -> tuple[Credit, ...]:
        """Whose footage is shown or was measured, each once."""
        drawing = self.drawing
        return drawing.credits if drawing else tuple(dict.fromkeys(panel.credit for panel in self.panels))

    @property
    def stepped(self) -> tuple[Panel, ...]:
        """All pictures that are stepped through, in order."""
        if not self.between:
            return self.panels
        return tuple(sorted((*self.panels, *self.between), key=lambda panel: panel.frame))


@dataclass(frozen=True)
class Timed:
    """An event, or a part of the swing, in seconds of real time; pm: its ± at k = 2.

    An event is good to half a captured picture, before or after: a rectangular distribution, u = a/√3
    (JCGM 100:2008, 4.3.7). frames: one for an event, first and last for a part.
    """

    name: str
    frames: tuple[int, ...]
    seconds: float
    pm: float


@dataclass(frozen=True)
class ClipFacts:
    """What a lesson may say of a clip as a whole. camera: in words; repeated: pictures shown again.

    clip: the folder's name. title: as readers are shown it. lens: how its bending was solved, in words; ""
    where the card states it, or nothing.
    """

    clip: str
    title: str
    events: tuple[Timed, ...]
    parts: tuple[Timed, ...]
    camera: str
    repeated: int
    assumed: tuple[str, ...]
    lens: str = ""


@dataclass(frozen=True)
class BoundLesson:
    """measures: in ledger order, by id. colours: of their chips, by id.

    named: every measure by each name that prose may call it, a strip's by event and by position. clips: those
    that its plates show, in the order of showing.
    """

    lesson: Lesson
    plates: tuple[Plate, ...]
    measures: dict[str, Measure]
    colours: dict[str, Colour] = field(default_factory=dict)
    named: dict[str, Measure] = field(default_factory=dict)
    clips: tuple[ClipFacts, ...] = ()

    @property
    def titles(self) -> dict[str, str]:
        """The titles of its clips by their folders' names."""
        return {facts.clip: facts.title for facts in self.clips}

    @property
    def leading(self) -> Plate | None:
        """The first plate, if it is one picture: there is room for that beside the title.

        One of an example is beside its source instead.
        """
        first = self.plates[0] if self.plates else None
        block = None if first is None else self.lesson.block_at(first.line)
        shown_below = block is not None and block.example is not None
        return first if first is not None and first.kind in _LEADING_KINDS and not shown_below else None

    @property
    def pictured(self) -> tuple[PlatePictures, ...]:
        """The pictures of all plates."""
        leading = self.leading
        return tuple(
            PlatePictures(
                plate.id, plate.kind, plate.stepped, plate.between, len(plate.panels) > 1, plate is leading
            )
            for plate in self.plates
        )

    def plate_at(self, line: int) -> Plate | None:
        return next((plate for plate in self.plates if plate.line == line), None)


@dataclass(frozen=True)
class BoundSite:
    """lessons: those to be pressed (no drafts), newest first. frames_shown: by clip, those on plates."""

    site: Site
    lessons: tuple[BoundLesson, ...]
    frames_shown: dict[str, frozenset[int]]
