"""A tag: a cell with the letter, then value, ± and words, as much of them as the plate has room for."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Any

from lessonpress.drawing.palette import COLOURS, INK, PAPER, letter_colour
from lessonpress.drawing.paper import Element, fine, group, n, path, text, tspan
from lessonpress.drawing.tags.faces import text_width
from lessonpress.overlays import Colour, Tag, TagText
from lessonpress.records import shown_in

HEIGHT = 24.0  # CSS px
LONE_HEIGHT = 22.0
CELL = 20.0  # width of the letter's cell, more for two letters
CUT = 4.0  # of the two corners at the letter
GAP = 4.0  # between cell, value, ± and words
LETTER = (13.5, 700)  # size in CSS px, weight
VALUE = (13.5, 650)
PM = (12.5, 500)
WORDS = (12.75, 500)
BASELINE = 4.8  # below the middle: half the height of a capital
EDGE = 1.3


@dataclass(frozen=True)
class Run:
    """A piece of a tag's text; role: "value", "pm" or "words"."""

    role: str
    words: str
    size: float
    weight: int

    @property
    def width(self) -> float:
        return text_width(self.words, self.size, self.weight)


@dataclass(frozen=True)
class Lettering:
    """What one tag says, with its size; `runs` is empty for a letter alone.

    otherwise: what it says in other readings, by the classes for which a page shows it; `classes`: of
    `runs`. Its size is that of the widest.
    """

    letter: str
    colour: Colour
    blank: bool
    runs: tuple[Run, ...]
    classes: str = ""
    otherwise: tuple[tuple[str, tuple[Run, ...]], ...] = ()

    @property
    def cell(self) -> float:
        return max(CELL, text_width(self.letter, *LETTER) + 8)

    @property
    def width(self) -> float:
        return max(self.width_of(runs) for _, runs in self.readings)

    def width_of(self, runs: tuple[Run, ...]) -> float:
        """Of a tag that says this."""
        return self.cell + sum(GAP + run.width for run in runs) + GAP + 3 if runs else self.cell

    @property
    def readings(self) -> tuple[tuple[str, tuple[Run, ...]], ...]:
        """What it says, by the classes for which a page shows it."""
        return (self.classes, self.runs), *self.otherwise

    @property
    def height(self) -> float:
        return HEIGHT if self.runs else LONE_HEIGHT

    def gives_up(self, role: str) -> Lettering:
        """The same without the run of that role."""
        left = tuple(
            (classes, tuple(run for run in runs if run.role != role)) for classes, runs in self.readings
        )
        return replace(self, runs=left[0][1], otherwise=left[1:] if left[0][1] else ())

    def alone(self) -> Lettering:
        """Its letter and nothing else."""
        return replace(self, runs=(), otherwise=())


def lettering(letter: str, tag: Tag, *, every: bool = False) -> Lettering:
    """All that the tag has to say; every: in every reading, for a page that hides all but one."""
    own = TagText(tag.words, tag.value, tag.pm)
    first, *others = [
        (classes, _runs(text)) for classes, text in shown_in(own, tag.otherwise if every else ())
    ]
    return Lettering(letter, tag.colour, tag.blank, first[1], first[0], tuple(others))


def _runs(text: TagText) -> tuple[Run, ...]:
    runs = (Run("value", text.value, *VALUE), Run("pm", text.pm, *PM), Run("words", text.words, *WORDS))
    return tuple(run for run in runs if run.words)


def draw_tag(said: Lettering, corner: tuple[float, float], pin: float = 0.0) -> Element:
    """The tag with its upper left corner at a CSS point, and in its group's attributes what moves it.

    What it says in several readings lies in groups of their classes. One narrower than the widest keeps to
    the side where `pin` is, px from the tag's left, since what it names is there. The group `upright` is what
    a page that turns the picture about turns back.
    """
    if said.otherwise:
        drawn = [_said(said, runs, classes, pin) for classes, runs in said.readings]
    else:
        drawn = _elements(said, said.runs, said.width)
    return group(
        [group(drawn, class_="upright")],
        {"letter": said.letter},
        class_="tag",
        transform=f"translate({n(corner[0])},{n(corner[1])})",
        stroke=INK,
        stroke_width=fine(EDGE),
        stroke_linejoin="round",
    )


def _said(said: Lettering, runs: tuple[Run, ...], classes: str, pin: float) -> Element:
    """The tag in one reading."""
    width = said.width_of(runs)
    aside = said.width - width if pin > width else 0.0
    moved: dict[str, Any] = {"transform": f"translate({n(aside)})"} if aside else {}
    return group(_elements(said, runs, width), class_=classes, **moved)


def _elements(said: Lettering, runs: tuple[Run, ...], width: float) -> list[Element]:
    cell = said.cell if runs else width
    elements = [path(_outline(width, said.height), fill=PAPER)]
    if not said.blank:
        elements.append(path(_outline(cell, said.height), fill=COLOURS[said.colour]))
    elif runs:
        elements.append(path(f"M{n(cell)} 3V{n(said.height - 3)}", stroke_dasharray="3 2", fill="none"))
    elements.append(_letter(said, cell))
    if runs:
        elements.append(_text(said, runs, cell))
    return elements


def _outline(width: float, height: float) -> str:
    """The tag's edge, the two corners at the letter cut."""
    return f"M{n(CUT)} 0H{n(width)}V{n(height)}H{n(CUT)}L0 {n(height - CUT)}V{n(CUT)}Z"


def _letter(said: Lettering, cell: float) -> Element:
    fill = INK if said.blank else letter_colour(said.colour)
    at = (cell / 2 + 0.5, said.height / 2 + BASELINE)
    size, weight = LETTER
    return text(
        said.letter,
        at,
        fill=fill,
        font_size=fine(size),
        font_weight=weight,
        text_anchor="middle",
        stroke="none",
    )


def _plain(weight: int) -> int:
    """SVG 1.1 knows hundreds only; for 600 a renderer takes the face of 650, and style sheets may say 650."""
    return weight // 100 * 100


def _text(said: Lettering, runs: tuple[Run, ...], cell: float) -> Element:
    made = text("", (cell + GAP, said.height / 2 + BASELINE), fill=INK, stroke="none")
    x = cell + GAP
    for run in runs:
        made.add(
            tspan(
                run.words, x=[n(x)], font_size=fine(run.size), font_weight=_plain(run.weight), class_=run.role
            )
        )
        x += run.width + GAP
    return made
