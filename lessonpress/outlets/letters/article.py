"""What a letter has of one lesson: the same words, plates, cautions and credits as its page."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from urllib.parse import urlsplit

from markupsafe import Markup

from lessonpress.drawing import LETTER
from lessonpress.figures import BoundLesson, Credit, Key, Panel, Plate, lettered
from lessonpress.manuscript import Lesson
from lessonpress.outlets.addresses import address
from lessonpress.outlets.letters.sources import Source
from lessonpress.pages import (
    Glosses,
    LessonBody,
    Linker,
    PageContext,
    credits_of,
    diagram_path,
    elsewhere,
    emblem_measure,
    href_from,
    lesson_path,
    pair_rows,
    printing_of,
    render,
    short_date,
)
from lessonpress.records import Measure

TEMPLATES = "letter/"  # within parts/


@dataclass(frozen=True)
class LetterPicture:
    """One picture of a plate. label: of a panel among several, else ""."""

    source: str
    alt: str
    label: str


@dataclass(frozen=True)
class LetterKey:
    """What letters of a plate mean. numbers: with ± and way; "" for one that was refused."""

    key: Key
    numbers: tuple[str, ...]


@dataclass(frozen=True)
class LetterPlate:
    """A plate as its letter prints it. differences: of a pair, what was measured, on both pictures, and first
    less second. points: day, label and number of a chart. Numbers are "" where they were refused.
    """

    plate: Plate
    pictures: tuple[LetterPicture, ...]
    caption: Markup
    keys: tuple[LetterKey, ...]
    differences: tuple[tuple[str, str, str, str], ...]
    points: tuple[tuple[str, str, str], ...]
    address: str


@dataclass(frozen=True)
class Article:
    """address: of the lesson's page, "" where the site has none. opening: the leading plate.

    parts: the body in order, of an excerpt its cautions. number: the lesson's one number for lists,
    in words. credits: with the numerals of the plates that they belong to.
    """

    lesson: Lesson
    author: str
    address: str
    opening: Markup | None
    parts: tuple[Markup, ...]
    number: str
    credits: tuple[tuple[tuple[str, ...], Credit], ...]
    pictures: tuple[str, ...]  # paths in the site
    cautioned: bool


def article_of(bound: BoundLesson, context: PageContext, source: Source, *, excerpt: bool) -> Article:
    """A lesson for a letter, whole or as an excerpt: its leading plate and its cautions."""
    made = _Printing(bound, context, source)
    opening = made.body.opening or next(iter(bound.plates), None)
    led = made.body.opening if not excerpt else opening
    opening_html = None if led is None else made.plate(led)
    if excerpt:
        parts = made.body.cautions_alone()
        shown: tuple[Plate, ...] = () if led is None else (led,)
    else:
        parts = tuple(html for part in made.body.parts() for html in part.html)
        shown = bound.plates
    return Article(
        lesson=bound.lesson,
        author=bound.lesson.author or context.bound.site.author or "",
        address=made.address,
        opening=opening_html,
        parts=parts,
        number=made.number,
        credits=credits_of(shown),
        pictures=tuple(made.pictures),
        cautioned=made.cautioned,
    )


class _Printing:
    """One lesson on its way into a letter. pictures: those asked for so far, paths in the site."""

    def __init__(self, bound: BoundLesson, context: PageContext, source: Source) -> None:
        self.bound, self.context, self.source = bound, context, source
        site = context.bound.site
        self.site = site
        self.address = address(site, lesson_path(bound.lesson.folder)) if site.url else ""
        self.pictures: dict[str, None] = {}
        link = Linker("", base=site.url or "")
        self.body = LessonBody(
            bound,
            context,
            link,
            self._href(link),
            printing_of(bound, context, page=None),
            Glosses(()),
            self.plate,
            elsewhere(f"lessons/{bound.lesson.name}.md", self._shown, context.stills),
            folder=TEMPLATES,
        )

    @property
    def number(self) -> str:
        """The one number that lists show of the lesson, in words."""
        measure = emblem_measure(self.bound)
        said = "" if measure is None else self._said(measure)
        return f"{measure.words}: {said}" if measure is not None and said else ""

    @property
    def cautioned(self) -> bool:
        """Whether the lesson has a caution, its author's or the theme's."""
        return bool(self.body.cautions_alone())

    def _href(self, link: Linker) -> Callable[[str], str | None]:
        """Links as the page has them, absolute; those that lead nowhere from a letter are taken off."""
        on_site = href_from(f"lessons/{self.bound.lesson.name}.md", link, self.context.sources)

        def printed(written: str) -> str | None:
            if written.startswith("#"):
                return self.address + written if self.address else None
            href = on_site(written)
            return href if urlsplit(href).scheme else None

        return printed

    def plate(self, plate: Plate) -> Markup:
        made = LetterPlate(
            plate=plate,
            pictures=self._pictures(plate),
            caption=render(plate.caption, self.body.caption(plate)) if plate.caption else Markup(),
            keys=tuple(self._key(key) for key in plate.keys),
            differences=tuple(self._differences(plate)) if plate.kind == "pair" else (),
            points=self._points(plate),
            address=f"{self.address}#plate-{plate.id}" if self.address else "",
        )
        return self.context.part(f"{TEMPLATES}plate.html", self.body.link, printed=made)

    def _pictures(self, plate: Plate) -> tuple[LetterPicture, ...]:
        if plate.drawing is not None:
            return (LetterPicture(self._source(plate, 0, 1), plate.alt, ""),)
        count = len(plate.panels)
        return tuple(
            LetterPicture(
                self._source(plate, position, count),
                panel.alt or plate.alt,
                self._label(plate, panel, position) if count > 1 else "",
            )
            for position, panel in enumerate(plate.panels)
        )

    def _label(self, plate: Plate, panel: Panel, position: int) -> str:
        if plate.kind != "pair":
            return panel.label
        swing = str(self.context.words["plate"]["swing"]).format(number=position + 1)
        return f"{swing} · {panel.title} · {panel.label}"

    def _source(self, plate: Plate, position: int, count: int) -> str:
        path = diagram_path(self.bound.lesson.folder, plate.id, position, count, "png", LETTER.name)
        return self._shown(path)

    def _shown(self, path: str) -> str:
        """A picture of the site. path: in the site."""
        self.pictures[path] = None
        return self.source(path)

    def _key(self, key: Key) -> LetterKey:
        measures = (self.bound.measures[name] for name in key.measures if name in self.bound.measures)
        return LetterKey(key, tuple(self._said(measure) for measure in measures))

    def _said(self, measure: Measure) -> str:
        """The number with its ± and way; "" for one that was refused."""
        number = lettered(measure, self.site.units)
        return "" if number is None else " ".join(filter(None, (number.size, self.context.say(number.way))))

    def _differences(self, plate: Plate) -> Iterator[tuple[str, str, str, str]]:
        for row in pair_rows(plate, self.bound, self.site.units):
            measure = row.named.measure
            first, second, difference = (
                "" if side is None else self._said(side.measure)
                for side in (row.first, row.second, row.difference)
            )
            yield f"{measure.letter} {measure.words}".strip(), first, second, difference

    def _points(self, plate: Plate) -> tuple[tuple[str, str, str], ...]:
        points = plate.chart.points if plate.chart is not None else ()
        words = self.context.words
        return tuple(
            (short_date(point.on, words), point.label, self._said(point.measure)) for point in points
        )
