"""What every drawing that travels alone has: heading and credit lettered below, face and facts inside it."""

from __future__ import annotations

import base64
from collections.abc import Iterable
from dataclasses import dataclass
from functools import cache

from lessonpress.drawing.palette import INK
from lessonpress.drawing.paper import FAMILY, Element, Piece, group, n, text
from lessonpress.drawing.tags.faces import text_width, woff2_file, wrapped
from lessonpress.drawing.tags.tags import Lettering, draw_tag
from lessonpress.figures import Credit
from lessonpress.overlays import Colour

WIDTH = 640  # CSS px
FOOT_SIZE = 13.0  # CSS px of the heading and credit at the foot
FOOT_LINE = 20.0
FOOT_MARGIN = 10.0
_DESCENDS = 5.0  # how far a line's letters and key reach below its baseline, at the most
KEY_INDENT = 28.0  # of a key's words; of two letters' cells as well
KEY_SCALE = 0.8  # of a letter in the key against one on the picture


@dataclass(frozen=True)
class KeyLine:
    """What one letter of a drawing means: the letter's cell and the words beside it."""

    letter: str
    colour: Colour
    blank: bool
    words: str


@dataclass(frozen=True)
class Label:
    """What a drawing says of itself. title, description: what a screen reader says, and a PNG carries within.

    heading: lettered below the drawing ("Plate II · Impact"). lesson: its title, lettered before the heading.
    keys: what its letters mean. address: of the lesson's page on the web, "" where the site has none.
    """

    title: str
    description: str = ""
    heading: str = ""
    lesson: str = ""
    keys: tuple[KeyLine, ...] = ()
    address: str = ""


@dataclass(frozen=True)
class Foot:
    """What is lettered below a drawing, already in lines: each with its weight, how far in it begins, and the
    key whose letter is before it.
    """

    lines: tuple[tuple[str, int, float, KeyLine | None], ...]

    @property
    def height(self) -> float:
        """CSS px."""
        return FOOT_LINE * len(self.lines) + FOOT_MARGIN if self.lines else 0.0

    def pieces(self, top: float) -> tuple[Piece, ...]:
        """Its lines, for `lettered_foot`. top: its upper edge, CSS px."""
        every = []
        for position, (words, weight, indent, key) in enumerate(self.lines, 1):
            baseline, right = top + FOOT_LINE * position, FOOT_MARGIN + indent
            elements: list[Element] = []
            if key is not None:
                cell = draw_tag(Lettering(key.letter, key.colour, key.blank, ()), (0.0, 0.0))
                moved = f"translate({n(FOOT_MARGIN)},{n(baseline - 13.5)}) scale({KEY_SCALE})"
                elements.append(group([cell], transform=moved))
            elements.append(text(words, (right, baseline), font_weight=weight))
            right += text_width(words, FOOT_SIZE, weight) + FOOT_MARGIN
            lowest = baseline + _DESCENDS
            every.append(Piece(tuple(elements), (0.0, lowest - FOOT_LINE, right, lowest)))
        return tuple(every)


def credit_words(credits: Iterable[Credit]) -> str:
    """Each credit with its licence."""
    said = (", ".join(part for part in (credit.text, credit.licence) if part) for credit in credits)
    return "; ".join(dict.fromkeys(words for words in said if words))


def foot_of(label: Label, credit: str, width: float) -> Foot:
    """The lesson's title, the heading, the key, the credit and the address, broken to `width` CSS px."""
    lines: list[tuple[str, int, float, KeyLine | None]] = []

    def add(
        words: str, weight: int, indent: float = 0.0, key: KeyLine | None = None, joint: str = " "
    ) -> None:
        room = width - 2 * FOOT_MARGIN - indent
        for line in wrapped(words, FOOT_SIZE, weight, room, joint):
            lines.append((line, weight, indent, key))
            key = None

    add(label.lesson, 700)
    add(label.heading, 700 if not label.lesson else 500)
    for key in label.keys:
        add(key.words, 500, KEY_INDENT, key)
    add(credit, 500)
    add(label.address, 500, joint="/")
    return Foot(tuple(lines))


def lettered_foot(lines: Iterable[Element]) -> Element:
    """The elements of a foot's lines, or of one of them, lettered as a foot is."""
    return group(lines, font_family=FAMILY, font_size=n(FOOT_SIZE), fill=INK, class_="foot")


@cache
def face_style() -> str:
    """The plate face inside the file, so that a drawing that travels alone is lettered as it was measured."""
    data = base64.b64encode(woff2_file().read_bytes()).decode("ascii")
    return (
        '@font-face{font-family:"National Park";font-weight:400 700;'
        f"src:url(data:font/woff2;base64,{data})}}.value{{font-weight:650}}"
    )
