"""A lesson as HTML without styles, to be read away from its site: whole, with absolute addresses."""

from __future__ import annotations

from urllib.parse import urljoin

from markupsafe import Markup, escape

from lessonpress.figures import BoundLesson, Plate
from lessonpress.manuscript import EXAMPLE, Block
from lessonpress.pages import cautions
from lessonpress.pages.frame import PageContext
from lessonpress.pages.lesson import credits_of
from lessonpress.pages.links import Linker, diagram_paths, lesson_path
from lessonpress.pages.markdown import Writing, render
from lessonpress.pages.prose import ProseContext
from lessonpress.pages.references import href_from

_OUTLINE = 2  # a reader of feeds sets the title; boxes come below its sections
PICTURE = "png"


def lesson_away(bound: BoundLesson, context: PageContext) -> Markup:
    """The body of a lesson with its plates as pictures, the caution that it needs, and its credits.

    The site must have a url.
    """
    return _Away(bound, context).whole()


class _Absolute(Linker):
    """Addresses as the site's own feeds and map have them, a folder's index.html left to the host."""

    def __call__(self, path: str, fragment: str = "") -> str:
        return super().__call__(path.removesuffix("index.html"), fragment)


class _Away:
    def __init__(self, bound: BoundLesson, context: PageContext) -> None:
        self.bound, self.words = bound, context.words
        self.site = context.bound.site
        self.page = context.address(lesson_path(bound.lesson.name))
        self.link = _Absolute("", base=self.site.url or "")
        self.printing = ProseContext(
            {**bound.named, **bound.measures},
            {plate.id: plate for plate in bound.plates},
            self.site.units,
            page=self.page,
            plate_word=self.words["plate"]["word"],
        )
        source = href_from(f"lessons/{bound.lesson.name}.md", self.link, context.sources)
        self.writing = Writing(
            self.printing,
            block=self._block,
            href=lambda href: urljoin(self.page, source(href)),
            first_line=bound.lesson.body_line,
            outline=1,
        )

    def whole(self) -> Markup:
        body = render(self.bound.lesson.body, self.writing)
        needed = cautions.needed(self.bound, self.words)
        caution = self._box("caution", escape(self.words["caution"]["text"])) if needed else Markup()
        whole = Markup("{}{}{}").format(body, caution, self._credits())
        # footnotes lead to each other within a page; those of a reader of feeds are many lessons'
        return Markup(str(whole).replace(' href="#', f' href="{escape(self.page)}#'))

    def _block(self, line: int) -> Markup | None:
        plate = self.bound.plate_at(line)
        if plate is not None:
            return self._plate(plate)
        block = self.bound.lesson.block_at(line)
        if block is not None and block.kind == EXAMPLE:
            return self._example(block)
        if block is not None and block.kind in (cautions.CAUTION, cautions.DRILL):
            return self._box(block.kind, self._text(block, _OUTLINE))
        return None

    def _plate(self, plate: Plate) -> Markup:
        paths = diagram_paths(self.bound.lesson.name, plate, PICTURE)
        alts = [panel.alt or plate.alt for panel in plate.panels] or [plate.alt]
        pictures = Markup().join(
            Markup('<p><img src="{}" alt="{}"></p>\n').format(self.link(path), alt)
            for path, alt in zip(paths, alts, strict=True)
        )
        caption = render(plate.caption, self._of_caption(plate)) if plate.caption else Markup()
        named = Markup("<p>{} {}</p>\n").format(self.words["plate"]["word"], plate.numeral)
        said = Markup().join(Markup("<p>{}</p>\n").format(remark) for remark in plate.remarks)
        return Markup("<figure>\n{}<figcaption>{}{}{}</figcaption>\n</figure>\n").format(
            pictures, named, caption, said
        )

    def _of_caption(self, plate: Plate) -> Writing:
        return Writing(
            self.printing,
            href=self.writing.href,
            first_line=plate.caption_line,
            notes=f"plate-{plate.id}",
        )

    def _example(self, block: Block) -> Markup:
        written = Markup("<pre><code>{}</code></pre>\n").format(block.text)
        return written + self._text(block, _OUTLINE)

    def _text(self, block: Block, outline: int) -> Markup:
        writing = Writing(
            self.printing,
            block=self._block,
            href=self.writing.href,
            first_line=block.line + 1,
            notes=f"box-{block.line}",
            outline=outline,
        )
        return render(block.text, writing)

    def _box(self, kind: str, body: Markup) -> Markup:
        title = self.words[kind]["title"]
        return Markup("<section>\n<h2>{}</h2>\n{}</section>\n").format(title, body)

    def _credits(self) -> Markup:
        lines = [
            f"{', '.join(numerals)}: {credit.text}{f', {credit.licence}' if credit.licence else ''}."
            for numerals, credit in credits_of(self.bound.plates)
        ]
        said = Markup("<p><small>{}</small></p>\n")
        return said.format(f"{self.words['foot']['plates']} {' '.join(lines)}") if lines else Markup()
