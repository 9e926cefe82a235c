"""A lesson's page: opening with its first plate, body, ledger, neighbours."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from markupsafe import Markup

from lessonpress.figures import BoundLesson, Credit, Plate
from lessonpress.manuscript import EXAMPLE, Block
from lessonpress.pages import cautions, ledger
from lessonpress.pages.body import Part, glossed, parts
from lessonpress.pages.contents import contents
from lessonpress.pages.dates import short_date
from lessonpress.pages.frame import PageContext
from lessonpress.pages.glossary import Glosses, terms_of, words_on
from lessonpress.pages.links import Linker, diagram_paths, lesson_path
from lessonpress.pages.markdown import Writing, heading_of, level_before, plain, render
from lessonpress.pages.plates import Printer
from lessonpress.pages.prose import ProseContext
from lessonpress.pages.references import href_from
from lessonpress.pages.times import times_of

BOXES = (cautions.CAUTION, cautions.DRILL)
OPENING_KINDS = ("frame",)  # a strip, a pair or a chart needs more width than the opening has


@dataclass(frozen=True)
class Neighbours:
    """The listed lessons before and after this one."""

    before: BoundLesson | None
    after: BoundLesson | None


@dataclass(frozen=True)
class Drill:
    id: str
    title: str


class LessonPage:
    """One lesson on its way to its page."""

    def __init__(self, bound: BoundLesson, context: PageContext) -> None:
        self.bound = bound
        self.lesson = bound.lesson
        self.context = context
        self.path = lesson_path(self.lesson.folder)
        self.link = Linker(self.path)
        self.units = context.bound.site.units
        words = context.words
        self.printing = ProseContext(
            {**bound.named, **bound.measures},
            {plate.id: plate for plate in bound.plates},
            self.units,
            plate_word=words["plate"]["word"],
            counts={},
        )
        self.href = href_from(f"lessons/{self.lesson.name}.md", self.link, context.sources)
        self.printer = Printer(bound, context.book, self.units, lambda day: short_date(day, words))
        self.drills: list[Drill] = []
        self.glosses = Glosses(terms_of(context.bound.site, words))

    def content(self, neighbours: Neighbours) -> bytes:
        opening = self._opening()
        opening_html = (
            None if opening is None else self._plate_html(opening, opens=True)
        )  # before what follows
        body = self._with_caution(self._body(opening))
        site = self.context.bound.site
        return self.context.page(
            "lesson.html",
            self.path,
            title=self.lesson.title,
            summary=self.lesson.summary or "",
            link=self.link,
            listed=self.lesson.listed,
            lesson=self.lesson,
            author=self.lesson.author or site.author,
            opening=opening_html,
            plates=self.bound.plates,
            contents=contents(self.bound.plates, self.context.words),
            drills=self.drills,
            body=body,
            rows=ledger.rows(self.bound, self.units, self.printing.counts),
            times=times_of(self.bound),
            credits=credits_of(self.bound.plates),
            clips=tuple(dict.fromkeys(panel.title for plate in self.bound.plates for panel in plate.panels)),
            topics=self.context.topic_links(self.lesson.topics),
            neighbours=neighbours,
            pictures=self._pictures(),
        )

    def _pictures(self) -> tuple[str, ...]:
        """The addresses of the plates as pictures, none for a site without a url."""
        if not self.context.bound.site.url:
            return ()
        paths = (diagram_paths(self.lesson.folder, plate, "png") for plate in self.bound.plates)
        return tuple(self.context.address(path) for of_plate in paths for path in of_plate)

    def _opening(self) -> Plate | None:
        """The plate beside the title; one of an example is beside its source instead."""
        first = self.bound.plates[0] if self.bound.plates else None
        block = None if first is None else self.lesson.block_at(first.line)
        shown_below = block is not None and block.example is not None
        return first if first is not None and first.kind in OPENING_KINDS and not shown_below else None

    def _body(self, opening: Plate | None) -> tuple[Part, ...]:
        blocks = {block.line: block for block in self.lesson.blocks}
        boxes = frozenset(line for line, block in blocks.items() if block.kind in BOXES)

        def stands_for(line: int) -> Markup | None:
            plate = self.bound.plate_at(line)
            if plate is not None:
                return Markup() if plate is opening else self._plate_html(plate, opens=False)
            if line in blocks and blocks[line].kind == EXAMPLE:
                return self._example(blocks[line], stands_for)
            return self._box(blocks[line]) if line in boxes else None

        writing = self._writing(block=stands_for, first_line=self.lesson.body_line, outline=1)
        return parts(self.lesson.body, writing, self.glosses, boxes)

    def _writing(self, **how: object) -> Writing:
        return Writing(self.printing, href=self.href, **how)  # type: ignore[arg-type]

    def _plate_html(self, plate: Plate, *, opens: bool) -> Markup:
        caption = self._writing(notes=f"plate-{plate.id}", first_line=plate.caption_line)
        made = self.printer.printed(plate, caption, opens=opens)
        met = self.glosses.first_met_in(words_on(plate, plain(plate.caption, self.printing), self.bound))
        return self.context.part(
            "plate.html", self.link, printed=made, opens=opens, glosses=glossed(met, caption)
        )

    def _example(self, block: Block, stands_for: Callable[[int], Markup | None]) -> Markup:
        """The example's source, and what it presses to."""
        within = self._writing(
            block=stands_for, first_line=block.line + 1, notes=f"example-{block.line}", outline=2
        )
        return self.context.part(
            "example.html", self.link, source=block.text, line=block.line, body=render(block.text, within)
        )

    def _box(self, block: Block) -> Markup:
        level = self._box_level(block)
        body = render(block.text, self._writing(notes=f"box-{block.line}", outline=level))
        if block.kind == cautions.CAUTION:
            return self.context.part("caution.html", self.link, body=body, level=level)
        drill = Drill(f"drill-{len(self.drills) + 1}", heading_of(block.text, self.printing))
        self.drills.append(drill)
        return self.context.part("drill.html", self.link, body=body, drill=drill, level=level)

    def _box_level(self, block: Block) -> int:
        """The level of a box's heading: one below the heading it comes under."""
        writing = self._writing(first_line=self.lesson.body_line, outline=1)
        return min(level_before(block.line, self.lesson.body, writing) + 1, 6)

    def _with_caution(self, body: tuple[Part, ...]) -> tuple[Part, ...]:
        """With the theme's caution before the first drill, or at the end, where one is needed."""
        words = self.context.words
        if not cautions.needed(self.bound, words):
            return body
        first = next((block for block in self.lesson.blocks if block.kind in BOXES), None)
        caution = self.context.part(
            "caution.html",
            self.link,
            body=Markup("<p>{}</p>").format(words["caution"]["text"]),
            level=2 if first is None else self._box_level(first),
        )
        for position, part in enumerate(body):
            if part.kind == "boxes":
                return (*body[:position], Part("boxes", (caution, *part.html)), *body[position + 1 :])
        return (*body, Part("boxes", (caution,)))


def credits_of(plates: Sequence[Plate]) -> tuple[tuple[tuple[str, ...], Credit], ...]:
    """Each credit with the numerals of the plates it belongs to."""
    due: dict[Credit, dict[str, None]] = {}
    for plate in plates:
        for panel in plate.panels:
            due.setdefault(panel.credit, {})[plate.numeral] = None
    return tuple((tuple(numerals), credit) for credit, numerals in due.items())
