"""A lesson's card: one sheet for the hand, with a plate, three numbers, the drill and the address."""

from __future__ import annotations

from functools import cached_property
from math import ceil

from markupsafe import Markup

from lessonpress.drawing import address_svg
from lessonpress.figures import BoundLesson, Key, Panel, Plate
from lessonpress.manuscript import Block
from lessonpress.pages import cautions, ledger
from lessonpress.pages.frame import PageContext
from lessonpress.pages.glossary import Glosses
from lessonpress.pages.lessonbody import LessonBody, printing_of
from lessonpress.pages.links import Linker, card_path, lesson_path
from lessonpress.pages.pictures import emblem_panel, numbers_that_matter
from lessonpress.pages.plates import Layout, Overlaid, overlaid
from lessonpress.pages.references import href_from
from lessonpress.pages.stills import on_page
from lessonpress.records import Measure

NUMBERS = 3
# What a box of the sheet holds beside the other, in printed lines of so many characters (styles/paper.css).
DRILL_LINES, DRILL_LINE = 16, 48
CAUTION_LINES, CAUTION_LINE = 16, 30


class LessonCard:
    """One lesson on its way to its card."""

    def __init__(self, bound: BoundLesson, context: PageContext) -> None:
        self.bound = bound
        self.context = context
        self.path = card_path(bound.lesson.folder)
        self.link = Linker(self.path)
        self.units = context.bound.site.units
        self.lesson_path = lesson_path(bound.lesson.folder)

    def content(self) -> bytes:
        lesson, panels = self.bound.lesson, self._panels()
        drill, cautioned = self._boxes()
        address = self.context.address(self.lesson_path)
        return self.context.page(
            "card.html",
            self.path,
            title=self.context.words["card"]["title"].format(title=lesson.title),
            summary=lesson.summary or "",
            link=self.link,
            listed=False,
            lesson=lesson,
            lesson_path=self.lesson_path,
            author=lesson.author or self.context.bound.site.author,
            plate=self._plate,
            panels=panels,
            keys=self._keys(panels),
            rows=[ledger.row(one, self.bound, self.units) for one in self._numbers()],
            drill=drill,
            cautions=cautioned,
            left_out=not self._fits and bool(self._written(cautions.DRILL)),
            credits=tuple(dict.fromkeys(one.panel.credit for one in panels)),
            lesson_address=address,
            code=Markup(address_svg(address)) if address else None,
        )

    def _numbers(self) -> tuple[Measure, ...]:
        return numbers_that_matter(self.bound)[:NUMBERS]

    # the picture

    @cached_property
    def _panel(self) -> Panel | None:
        return emblem_panel(self.bound)

    @cached_property
    def _plate(self) -> Plate | None:
        """The plate that the picture is of."""
        return next((plate for plate in self.bound.plates if self._panel in plate.panels), None)

    def _panels(self) -> tuple[Overlaid, ...]:
        """The picture that lists show the lesson by, whole; of a pair both."""
        if self._plate is None or self._panel is None:
            return ()
        shown = self._plate.panels if self._plate.kind == "pair" else (self._panel,)
        layout: Layout = "abreast" if len(shown) > 1 else "page"
        book, say = self.context.book, self.context.say
        return tuple(
            overlaid(panel, book, self.units, f"card-{position}", layout, say=say)
            for position, panel in enumerate(shown, 1)
        )

    def _keys(self, panels: tuple[Overlaid, ...]) -> tuple[Key, ...]:
        """What the letters of the pictures say; of a strip those of the one picture that is shown."""
        lettered = {drawn.letter for one in panels for drawn in one.panel.drawn if drawn.shown}
        keys = () if self._plate is None else self._plate.keys
        return tuple(key for key in keys if lettered.intersection(key.letters))

    # the drill

    @cached_property
    def _body(self) -> LessonBody:
        context, link = self.context, self.link
        printing = printing_of(self.bound, context, page=link(self.lesson_path), every=True)
        file = f"lessons/{self.bound.lesson.name}.md"
        href, picture = href_from(file, link, context.sources), on_page(file, link, context.stills)
        return LessonBody(
            self.bound, context, link, href, printing, Glosses(()), lambda plate: Markup(), picture
        )

    def _boxes(self) -> tuple[Markup, tuple[Markup, ...]]:
        """The first drill and the cautions; neither where the sheet has no room for both."""
        if not self._fits:
            return Markup(), ()
        return self._body.drill_alone(), self._body.cautions_alone(level=2)

    def _written(self, kind: str) -> list[Block]:
        return [block for block in self.bound.lesson.blocks if block.kind == kind]

    @property
    def _fits(self) -> bool:
        drills = [block.text for block in self._written(cautions.DRILL)[:1]]
        cautioned = [block.text for block in self._written(cautions.CAUTION)]
        pictured = any("![" in text for text in (*drills, *cautioned))
        return (
            not pictured
            and _lines(drills, DRILL_LINE) <= DRILL_LINES
            and _lines(cautioned, CAUTION_LINE) <= CAUTION_LINES
        )


def _lines(texts: list[str], line: int) -> int:
    """How many lines of so many characters the texts take at the most, roughly."""
    return sum(ceil(len(one) / line) for text in texts for one in text.split("\n") if one.strip())
