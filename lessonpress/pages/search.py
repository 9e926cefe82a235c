"""The page that searches the site, and what is searched: a record of each lesson and of each plain page.

A record is a page for the indexer alone: the words of the text, and under a heading of its own those of each
picture, with its event, its swinger and its measures. So what is found says in which picture it is, and
`found.json` beside the lesson holds that picture with its lines.
"""

from __future__ import annotations

import json
from collections.abc import Iterable, Iterator, Sequence

from markupsafe import Markup

from lessonpress.drawing import plate_svg
from lessonpress.figures import BoundLesson, Panel, Plate
from lessonpress.manuscript import Page
from lessonpress.pages.frame import PageContext
from lessonpress.pages.lessonbody import BOXES, printing_of
from lessonpress.pages.links import SEARCH_PAGE, Linker
from lessonpress.pages.markdown import plain
from lessonpress.pages.pictures import shot_of
from lessonpress.pages.plates import THUMB
from lessonpress.pages.prose import ProseContext

WORDS, NAMES = 1, 4  # how much a word counts: of a text; of a topic, an event, a measure


def search_page(context: PageContext, parts: Sequence[str]) -> tuple[str, bytes]:
    """The path and the content of the page. parts: the folders that the index lies in."""
    title = context.words["search"]["title"]
    said = context.page("search.html", SEARCH_PAGE, title=title, listed=False, searches=True, parts=parts)
    return SEARCH_PAGE, said


def lesson_record(bound: BoundLesson, context: PageContext) -> bytes:
    """What of a lesson is searched."""
    lesson, printing = bound.lesson, printing_of(bound, context, page=None)
    body = [plain(lesson.body, printing)]
    body += [plain(block.text, printing) for block in lesson.blocks if block.kind in BOXES]
    named = (*lesson.topics, lesson.series or "", lesson.author or "")
    parts = [_part(NAMES, named), _part(WORDS, (lesson.summary or "", *body))]
    for plate in bound.plates:
        parts += _plate(plate, bound, context, printing)
    return _record(lesson.title, parts, context)


def page_record(page: Page, context: PageContext) -> bytes:
    """What of a plain page is searched."""
    printing = ProseContext({}, {}, context.bound.site.units, page=None, say=context.say)
    return _record(page.title, [_part(WORDS, (page.summary, plain(page.body, printing)))], context)


def found_pictures(bound: BoundLesson, context: PageContext) -> bytes:
    """By the heading of each picture in the record: its file from the site's root, size and lines."""
    pictures = {}
    for plate in bound.plates:
        for position, panel in enumerate(plate.panels):
            files = context.book.of(shot_of(panel))
            if files:
                prefix = f"found-{plate.id}-{position}"
                svg = plate_svg(panel, THUMB, mirrored=panel.mirrored, thumb=True, ids_prefix=prefix)
                pictures[_heading(plate, panel, context)] = {
                    "file": Linker("")(files[0].href),
                    "width": round(panel.crop[2] - panel.crop[0]),
                    "height": round(panel.crop[3] - panel.crop[1]),
                    "turned": panel.mirrored,
                    "lines": svg,
                }
    return json.dumps(pictures, ensure_ascii=False, separators=(",", ":")).encode()


def _plate(
    plate: Plate, bound: BoundLesson, context: PageContext, printing: ProseContext
) -> Iterator[Markup]:
    """A heading and the words of each picture; what is said of the plate as a whole is with the first."""
    measured = [bound.measures[name].words for name in plate.measures if name in bound.measures]
    said = (*measured, plain(plate.caption, printing), plate.description)
    for position, panel in enumerate(plate.panels):
        drawn = [one for one in panel.drawn if one.shown]
        numbers = [one.measure.words for one in drawn if one.measure is not None]
        yield _headed(plate, _heading(plate, panel, context))
        yield _part(NAMES, (panel.title, context.say(panel.label), *(one.name for one in drawn), *numbers))
        yield _part(WORDS, (panel.alt, *(() if position else (plate.alt, *said))))
    if not plate.panels:
        yield _headed(plate, _heading(plate, None, context))
        name = () if plate.drawing is None else (plate.drawing.name,)
        yield _part(NAMES, (*name, *measured))
        yield _part(WORDS, (plate.alt, *said))


def _heading(plate: Plate, panel: Panel | None, context: PageContext) -> str:
    name = f"{context.words['plate']['word']} {plate.numeral}"
    if panel is None:
        return name
    at = f"{name}, {context.say(panel.label)}"
    return f"{at}, {panel.title}" if plate.kind == "pair" else at


def _headed(plate: Plate, heading: str) -> Markup:
    return Markup('<h2 id="plate-{}">{}</h2>').format(plate.id, heading)


def _part(weight: int, texts: Iterable[str]) -> Markup:
    """Each text once, a sentence of its own."""
    lines = Markup("\n").join(Markup("<p>{}</p>").format(text) for text in dict.fromkeys(texts) if text)
    return Markup('<div data-pagefind-weight="{}">{}</div>').format(weight, lines)


def _record(title: str, parts: Iterable[Markup], context: PageContext) -> bytes:
    html = Markup('<!doctype html>\n<html lang="{}"><body><h1>{}</h1>\n{}\n</body></html>\n').format(
        context.bound.site.language, title, Markup("\n").join(parts)
    )
    return html.encode()
