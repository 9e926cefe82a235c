"""A tag: a cell with the letter, then value, ± and words, as much of them as the plate has room for."""

from __future__ import annotations

from dataclasses import dataclass, replace

from lessonpress.drawing.palette import COLOURS, INK, PAPER, letter_colour
from lessonpress.drawing.paper import Element, fine, group, n, path, text, tspan
from lessonpress.drawing.tags.faces import text_width
from lessonpress.overlays import Colour, Tag

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
    """What one tag says, with its size; `runs` is empty for a letter alone."""

    letter: str
    colour: Colour
    blank: bool
    runs: tuple[Run, ...]

    @property
    def cell(self) -> float:
        return max(CELL, text_width(self.letter, *LETTER) + 8)

    @property
    def width(self) -> float:
        if not self.runs:
            return self.cell
        return self.cell + sum(GAP + run.width for run in self.runs) + GAP + 3

    @property
    def height(self) -> float:
        return HEIGHT if self.runs else LONE_HEIGHT

    def gives_up(self, role: str) -> Lettering:
        """The same without the run of that role."""
        return replace(self, runs=tuple(run for run in self.runs if run.role != role))


def lettering(letter: str, tag: Tag) -> Lettering:
    """All that the tag has to say."""
    runs = (Run("value", tag.value, *VALUE), Run("pm", tag.pm, *PM), Run("words", tag.words, *WORDS))
    return Lettering(letter, tag.colour, tag.blank, tuple(run for run in runs if run.words))


def draw_tag(said: Lettering, corner: tuple[float, float]) -> Element:
    """The tag with its upper left corner at a CSS point, and in its group's attributes what moves it."""
    cell = said.width if not said.runs else said.cell
    elements = [path(_outline(said.width, said.height), fill=PAPER)]
    if not said.blank:
        elements.append(path(_outline(cell, said.height), fill=COLOURS[said.colour]))
    elif said.runs:
        elements.append(path(f"M{n(cell)} 3V{n(said.height - 3)}", stroke_dasharray="3 2", fill="none"))
    elements.append(_letter(said, cell))
    if said.runs:
        elements.append(_text(said, cell))
    return group(
        elements,
        {"letter": said.letter},
        class_="tag",
        transform=f"translate({n(corner[0])},{n(corner[1])})",
        stroke=INK,
        stroke_width=fine(EDGE),
        stroke_linejoin="round",
    )


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


def _text(said: Lettering, cell: float) -> Element:
    made = text("", (cell + GAP, said.height / 2 + BASELINE), fill=INK, stroke="none")
    x = cell + GAP
    for run in said.runs:
        made.add(
            tspan(
                run.words, x=[n(x)], font_size=fine(run.size), font_weight=_plain(run.weight), class_=run.role
            )
        )
        x += run.width + GAP
    return made
