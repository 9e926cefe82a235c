"""A lesson's page: opening with its first plate, body, ledger, neighbours."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from markupsafe import Markup

from lessonpress.figures import BoundLesson, Credit, Plate
from lessonpress.pages import ledger
from lessonpress.pages.body import glossed
from lessonpress.pages.contents import contents
from lessonpress.pages.dates import short_date
from lessonpress.pages.frame import PageContext
from lessonpress.pages.glossary import Glosses, terms_of, words_on
from lessonpress.pages.lessonbody import LessonBody, fills_a_card, printing_of
from lessonpress.pages.links import Linker, diagram_paths, lesson_path
from lessonpress.pages.markdown import plain
from lessonpress.pages.plates import Layouts, Printer
from lessonpress.pages.references import href_from
from lessonpress.pages.sharing import shared_picture
from lessonpress.pages.stills import on_page
from lessonpress.pages.times import times_of


@dataclass(frozen=True)
class Neighbours:
    """The listed lessons before and after this one. series: those of its series, itself among them."""

    before: BoundLesson | None
    after: BoundLesson | None
    series: tuple[BoundLesson, ...] = ()


class LessonPage:
    """One lesson on its way to its page. overlays: those of its pictures, as `overlays_of` draws them."""

    def __init__(self, bound: BoundLesson, context: PageContext, overlays: Mapping[str, Layouts]) -> None:
        self.bound = bound
        self.lesson = bound.lesson
        self.context = context
        self.path = lesson_path(self.lesson.folder)
        self.link = Linker(self.path)
        self.units = context.bound.site.units
        words = context.words
        self.printing = printing_of(bound, context, counts={}, every=True)
        self.printer = Printer(
            bound, context.book, self.units, lambda day: short_date(day, words), context.say, overlays
        )
        self.glosses = Glosses(terms_of(context.bound.site, words))
        source = f"lessons/{self.lesson.name}.md"
        self.body = LessonBody(
            bound,
            context,
            self.link,
            href_from(source, self.link, context.sources),
            self.printing,
            self.glosses,
            lambda plate: self._plate_html(plate, opens=False),
            on_page(source, self.link, context.stills),
        )

    def content(self, neighbours: Neighbours) -> bytes:
        opening = self.body.opening
        opening_html = (
            None if opening is None else self._plate_html(opening, opens=True)
        )  # before what follows
        body = self.body.parts()
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
            carded=fills_a_card(self.bound),
            plates=self.bound.plates,
            contents=contents(self.bound.plates, self.context.words),
            drills=self.body.drills,
            body=body,
            rows=ledger.rows(self.bound, self.units, self.printing.counts),
            times=times_of(self.bound),
            credits=credits_of(self.bound.plates),
            clips=tuple(dict.fromkeys(panel.title for plate in self.bound.plates for panel in plate.panels)),
            topics=self.context.topic_links(self.lesson.topics),
            neighbours=neighbours,
            pictures=self._pictures(),
            shared=shared_picture(self.bound, self.context),
        )

    def _pictures(self) -> tuple[str, ...]:
        """The addresses of the plates as pictures, none for a site without a url."""
        if not self.context.bound.site.url:
            return ()
        paths = (diagram_paths(self.lesson.folder, plate, "png") for plate in self.bound.plates)
        return tuple(self.context.address(path) for of_plate in paths for path in of_plate)

    def _plate_html(self, plate: Plate, *, opens: bool) -> Markup:
        caption = self.body.caption(plate)
        made = self.printer.printed(plate, caption)
        met = self.glosses.first_met_in(words_on(plate, plain(plate.caption, self.printing), self.bound))
        return self.context.part(
            "plate.html",
            self.link,
            printed=made,
            opens=opens,
            glosses=glossed(met, caption),
            title=self.lesson.title,
            cited=self.context.address(self.path) if self.lesson.listed else "",
        )


def credits_of(plates: Sequence[Plate]) -> tuple[tuple[tuple[str, ...], Credit], ...]:
    """Each credit with the numerals of the plates it belongs to."""
    due: dict[Credit, dict[str, None]] = {}
    for plate in plates:
        for credit in plate.credits:
            due.setdefault(credit, {})[plate.numeral] = None
    return tuple((tuple(numerals), credit) for credit, numerals in due.items())
