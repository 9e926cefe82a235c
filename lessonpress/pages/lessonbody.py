"""The body of a lesson as a page or a letter prints it: prose, plates, boxes and examples in order."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field

from markupsafe import Markup

from lessonpress.figures import BoundLesson, Plate
from lessonpress.manuscript import EXAMPLE, Block
from lessonpress.pages import cautions
from lessonpress.pages.body import Part, parts, with_boxes
from lessonpress.pages.frame import PageContext
from lessonpress.pages.glossary import Glosses
from lessonpress.pages.links import Linker
from lessonpress.pages.markdown import Writing, heading_of, level_before, render
from lessonpress.pages.pictures import emblem_panel
from lessonpress.pages.prose import ProseContext
from lessonpress.pages.stills import Printing

BOXES = (cautions.CAUTION, cautions.DRILL)


def fills_a_card(bound: BoundLesson) -> bool:
    """Whether a lesson has more to carry to the range than its title: a picture or a drill."""
    drilled = any(block.kind == cautions.DRILL for block in bound.lesson.blocks)
    return drilled or emblem_panel(bound) is not None


def printing_of(
    bound: BoundLesson,
    context: PageContext,
    *,
    page: str | None = "",
    counts: dict[str, int] | None = None,
    every: bool = False,
) -> ProseContext:
    """What the prose of a lesson may print; page, counts and every are those of the ProseContext."""
    return ProseContext(
        {**bound.named, **bound.measures},
        {plate.id: plate for plate in bound.plates},
        context.bound.site.units,
        page=page,
        plate_word=context.words["plate"]["word"],
        counts=counts,
        say=context.say,
        every=every,
    )


@dataclass(frozen=True)
class Drill:
    id: str
    title: str


@dataclass
class LessonBody:
    """One lesson on its way to where it is printed.

    link, href: as the page or letter links the site's own files, and what its author wrote. plate: prints a
    plate. picture: prints a picture of the author's own. folder: of the templates of boxes and examples,
    within parts/. drills: those printed so far.
    """

    bound: BoundLesson
    context: PageContext
    link: Linker
    href: Callable[[str], str | None]
    printing: ProseContext
    glosses: Glosses
    plate: Callable[[Plate], Markup]
    picture: Printing
    folder: str = ""
    drills: list[Drill] = field(default_factory=list)

    @property
    def opening(self) -> Plate | None:
        """The plate beside the title."""
        return self.bound.leading

    def parts(self) -> tuple[Part, ...]:
        """All but the opening, with the theme's caution where one is needed."""
        lesson, opening = self.bound.lesson, self.opening
        blocks = {block.line: block for block in lesson.blocks}
        drills, boxed = (
            frozenset(line for line, block in blocks.items() if block.kind == kind)
            for kind in (cautions.DRILL, cautions.CAUTION)
        )

        def stands_for(line: int) -> Markup | None:
            plate = self.bound.plate_at(line)
            if plate is not None:
                return Markup() if plate is opening else self.plate(plate)
            if line in blocks and blocks[line].kind == EXAMPLE:
                return self._example(blocks[line], stands_for)
            return self._box(blocks[line]) if line in drills | boxed else None

        writing = self.writing(block=stands_for, first_line=lesson.body_line, outline=1)
        return self._with_caution(parts(lesson.body, writing, self.glosses, drills, boxed))

    def cautions_alone(self, level: int = 0) -> tuple[Markup, ...]:
        """The author's cautions, else the theme's where one is needed: for what has no body.

        level: of their headings, 0 for the one that the place of each in the text asks for.
        """
        written = [block for block in self.bound.lesson.blocks if block.kind == cautions.CAUTION]
        if cautions.needed(self.bound, self.context.words):
            return (self._caution_of_theme(2),)
        return tuple(self._box(block, level) for block in written)

    def drill_alone(self) -> Markup:
        """The first drill, for a card; empty for a lesson without one."""
        first = next((block for block in self.bound.lesson.blocks if block.kind == cautions.DRILL), None)
        return Markup() if first is None else self._box(first, level=2)

    def caption(self, plate: Plate) -> Writing:
        """How the plate's caption is rendered."""
        return self.writing(notes=f"plate-{plate.id}", first_line=plate.caption_line)

    def writing(self, **how: object) -> Writing:
        return Writing(self.printing, href=self.href, picture=self.picture, **how)  # type: ignore[arg-type]

    def _part(self, template: str, **values: object) -> Markup:
        return self.context.part(f"{self.folder}{template}", self.link, **values)

    def _example(self, block: Block, stands_for: Callable[[int], Markup | None]) -> Markup:
        """The example's source, and what it presses to."""
        within = self.writing(
            block=stands_for, first_line=block.line + 1, notes=f"example-{block.line}", outline=2
        )
        return self._part("example.html", source=block.text, line=block.line, body=render(block.text, within))

    def _box(self, block: Block, level: int = 0) -> Markup:
        """level: of its heading, 0 for the one that its place in the text asks for."""
        level = level or self._box_level(block)
        body = render(block.text, self.writing(notes=f"box-{block.line}", outline=level))
        if block.kind == cautions.CAUTION:
            return self._part("caution.html", body=body, level=level)
        drill = Drill(f"drill-{len(self.drills) + 1}", heading_of(block.text, self.printing))
        self.drills.append(drill)
        return self._part("drill.html", body=body, drill=drill, level=level)

    def _box_level(self, block: Block) -> int:
        """The level of a box's heading: one below the heading it comes under."""
        writing = self.writing(first_line=self.bound.lesson.body_line, outline=1)
        return min(level_before(block.line, self.bound.lesson.body, writing) + 1, 6)

    def _with_caution(self, body: tuple[Part, ...]) -> tuple[Part, ...]:
        """With the theme's caution before the first drill, or at the end, where one is needed."""
        if not cautions.needed(self.bound, self.context.words):
            return body
        first = next((block for block in self.bound.lesson.blocks if block.kind in BOXES), None)
        caution = self._caution_of_theme(2 if first is None else self._box_level(first))
        general = Part("boxes", (caution,), cautions=1)
        for position, part in enumerate(body):
            if part.kind == "boxes":
                return (*body[:position], with_boxes(general, part), *body[position + 1 :])
        return (*body, general)

    def _caution_of_theme(self, level: int) -> Markup:
        text = Markup("<p>{}</p>").format(self.context.words["caution"]["text"])
        return self._part("caution.html", body=text, level=level)
