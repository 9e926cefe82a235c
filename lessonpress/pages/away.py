"""A lesson as HTML without styles, to be read away from its site: whole, with absolute addresses."""

from __future__ import annotations

from urllib.parse import urljoin

from markupsafe import Markup, escape

from lessonpress.figures import BoundLesson, Plate
from lessonpress.pages.frame import PageContext
from lessonpress.pages.glossary import Glosses
from lessonpress.pages.lesson import credits_of
from lessonpress.pages.lessonbody import LessonBody, printing_of
from lessonpress.pages.links import Linker, diagram_paths, lesson_path
from lessonpress.pages.markdown import render
from lessonpress.pages.references import href_from
from lessonpress.pages.stills import elsewhere

TEMPLATES = "feed/"  # within parts/
PICTURE = "png"


def lesson_away(bound: BoundLesson, context: PageContext) -> Markup:
    """The body of a lesson with its plates as pictures, the cautions that it needs, and its credits.

    The site must have a url.
    """
    return _Away(bound, context).whole()


class _Absolute(Linker):
    """Addresses as the site's own feeds and map have them, a folder's index.html left to the host."""

    def __call__(self, path: str, fragment: str = "") -> str:
        return super().__call__(path.removesuffix("index.html"), fragment)


class _Away:
    def __init__(self, bound: BoundLesson, context: PageContext) -> None:
        self.bound, self.context = bound, context
        self.page = context.address(lesson_path(bound.lesson.folder))
        self.link = _Absolute("", base=context.bound.site.url or "")
        file = f"lessons/{bound.lesson.name}.md"
        source = href_from(file, self.link, context.sources)
        self.body = LessonBody(
            bound,
            context,
            self.link,
            lambda href: urljoin(self.page, source(href)),
            printing_of(bound, context, page=self.page),
            Glosses(()),
            self._plate,
            elsewhere(file, self.link, context.stills),
            folder=TEMPLATES,
        )

    def whole(self) -> Markup:
        opening = self.body.opening
        parts = [] if opening is None else [self._plate(opening)]
        parts += [html for part in self.body.parts() for html in part.html]
        credits = credits_of(self.bound.plates)
        whole = self.context.part(f"{TEMPLATES}lesson.html", self.link, parts=parts, credits=credits)
        # footnotes lead to each other within a page; those of a reader of feeds are many lessons'
        return Markup(str(whole).replace(' href="#', f' href="{escape(self.page)}#'))

    def _plate(self, plate: Plate) -> Markup:
        paths = diagram_paths(self.bound.lesson.folder, plate, PICTURE)
        alts = [panel.alt or plate.alt for panel in plate.panels] or [plate.alt]
        return self.context.part(
            f"{TEMPLATES}plate.html",
            self.link,
            plate=plate,
            pictures=list(zip(map(self.link, paths), alts, strict=True)),
            caption=render(plate.caption, self.body.caption(plate)) if plate.caption else Markup(),
        )
