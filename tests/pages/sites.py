"""Sites to render in tests, and what to look for in their pages."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping
from dataclasses import replace
from datetime import date, timedelta
from functools import cache
from posixpath import dirname, join, normpath
from urllib.parse import unquote, urlsplit
from xml.etree.ElementTree import Element

import html5lib

from lessonpress.figures.plates import BoundLesson, BoundSite, Chart, ChartPoint
from lessonpress.pages import Picture, PictureBook, Theme, wanted_shots
from lessonpress.pages.links import ATOM_FEED, JSON_FEED, diagram_path, measures_path, topic_feed_path
from lessonpress.pages.topics import topics_of
from tests.pages import factory
from tests.pages.rendering import render_site

XHTML = "{http://www.w3.org/1999/xhtml}"
THEME = Theme.named()


def book_of(bound: BoundSite) -> PictureBook:
    """A book with a file for every shot that the site needs."""
    made = {}
    for want in wanted_shots(bound):
        left, top, right, bottom = want.shot.crop
        ratio = (bottom - top) / (right - left)
        stem = f"pictures/{want.shot.clip}-{want.shot.frame}-{left:g}-{top:g}-{right:g}"
        made[want.shot] = [Picture(f"{stem}-{w}.webp", w, round(w * ratio)) for w in want.widths]
    return PictureBook(made)


def pages_of(bound: BoundSite, book: PictureBook | None = None) -> dict[str, str]:
    """The HTML pages of a site by path."""
    files = render_site(bound, book or book_of(bound), THEME)
    return {path: content.decode() for path, content in files if path.endswith(".html")}


HIDDEN = {"cm", "turned"}  # of a site in inches, for a reader who has chosen nothing


def words_of(element: Element, hidden: Collection[str] = frozenset(HIDDEN)) -> str:
    """The words of an element without those that are kept for other choices of the reader."""
    return " ".join("".join(_texts(element, hidden)).split())


def _texts(element: Element, hidden: Collection[str]) -> Iterator[str]:
    yield element.text or ""
    for child in element:
        if not set((child.get("class") or "").split()) & set(hidden):
            yield from _texts(child, hidden)
        yield child.tail or ""


def weekly(count: int, **front: object) -> list[BoundLesson]:
    """Lessons a week apart, newest first."""
    return [
        factory.bare_lesson(
            f"week-{number}", number=number, date=date(2024, 1, 1) + timedelta(7 * number), **front
        )
        for number in range(count, 0, -1)
    ]


def pair_lesson() -> BoundLesson:
    """Two swings side by side, with the differences of one overlay."""
    names = ("lean.first", "lean.second", "lean.difference")
    clips = ("dune-face-on", "shingle-face-on")
    frames = (tuple(range(65, 90)), tuple(range(52, 67)))
    made = [replace(factory.TILT, id=name, figure="two") for name in names]
    first, second = (replace(made[n], clips=(clips[n],), frames=frames[n]) for n in (0, 1))
    less = replace(made[2], way="", value=-13.5, clips=clips, frames=frames[0] + frames[1])
    measures = {one.id: one for one in (first, second, less)}
    plate = factory.plate(
        "two",
        "I",
        10,
        [
            factory.at_impact(),
            replace(factory.at_impact(), clip="shingle-face-on", title=factory.TITLES["shingle-face-on"]),
        ],
        kind="pair",
        measures=names,
        remarks=("The first leans 13.5° ± 2.6 less than the second.",),
    )
    body = "```pair\nid: two\n```\n\nWords.\n"
    lesson = factory.lesson("two-swings", body, number=None, topics=())
    return BoundLesson(lesson, (plate,), measures, dict.fromkeys(measures, "blue"))


def chart_lesson() -> BoundLesson:
    """The spine's tilt over three days, one of them another lesson's."""
    points = tuple(
        ChartPoint(label, on, replace(factory.TILT, id=f"tilt-{place}", value=value), lesson)
        for place, (label, on, value, lesson) in enumerate(
            [
                ("Dune, first week", date(2026, 9, 1), -22.4, None),
                ("Where the belt buckle points", date(2026, 10, 1), -26.1, "second"),
                ("Shingle, outdoors", date(2026, 11, 1), -29.2, None),
            ]
        )
    )
    chart = Chart("Tilt of the line from navel to C7", "°", points)
    plate = factory.plate(
        "over-time", "I", 10, [], kind="progress", chart=chart, alt="The tilt grows from 22.4° to 29.2°."
    )
    lesson = factory.lesson("autumn", "```progress\n```\n", number=None, topics=())
    return BoundLesson(lesson, (plate,), {}, {})


@cache
def parse(html: str) -> Element:
    """The page as a strict HTML5 parser reads it. Raises html5lib's ParseError at the first mistake."""
    return html5lib.HTMLParser(strict=True).parse(html)


def ids_of(page: Element) -> list[str]:
    return [found for element in page.iter() if (found := element.get("id"))]


def hrefs_of(page: Element) -> Iterator[str]:
    """Every address the page leads to or loads."""
    for element in page.iter():
        for name in ("href", "src"):
            if (found := element.get(name)) is not None:
                yield found
        for part in (element.get("srcset") or "").split(", "):
            if part:
                yield part.split(" ")[0]


def target(page: str, href: str) -> tuple[str, str] | None:
    """(path in the site, fragment) that a link on `page` leads to; None where it leaves the site."""
    parts = urlsplit(href)
    if parts.scheme:
        return None
    path = normpath(join(dirname(page), unquote(parts.path))) if parts.path else page
    return path, unquote(parts.fragment)


def files_beside(bound: BoundSite) -> set[str]:
    """The files that others put where the pages link to them: pictures, diagrams, data."""
    book = book_of(bound)
    pictures = {file.href for want in wanted_shots(bound) for file in book.of(want.shot)}
    made = {measures_path(one.lesson.name, suffix) for one in bound.lessons for suffix in ("csv", "json")}
    for one in bound.lessons:
        for plate in one.plates:
            count = 1 if plate.chart else len(plate.panels)
            for place in range(count):
                for suffix in ("svg", "png"):
                    made.add(diagram_path(one.lesson.name, plate.id, place, count, suffix))
            if one.lesson.listed:
                for size in ("sheet", "square") if count > 1 else ("square",):
                    made.add(diagram_path(one.lesson.name, plate.id, 0, 1, "png", size))
    topics = topics_of(one for one in bound.lessons if one.lesson.listed)
    of_topics = {topic_feed_path(topic.slug, suffix) for topic in topics for suffix in ("xml", "json")}
    feeds = {ATOM_FEED, JSON_FEED, *of_topics} if bound.site.url else set()
    return pictures | made | feeds


SITES: Mapping[str, BoundSite] = {
    "without a lesson": factory.bound(),
    "one lesson of words": factory.bound(factory.bare_lesson("one")),
    "a whole lesson among others": factory.bound(
        factory.whole_lesson(),
        factory.whole_lesson("second", title="Where the belt buckle points", number=47),
        pair_lesson(),
        chart_lesson(),
        *weekly(12),
        glossary={"hub": "Where the arc of the hands *turns*."},
        pages=[factory.page("about", "About", "See [the hub](../lessons/second.md).\n")],
    ),
    "long titles": factory.bound(
        factory.whole_lesson(title="Donaudampfschifffahrtsgesellschaftskapitänsschwungbewegung " * 3),
        *weekly(3, title="A title that runs on " * 12),
        title="The Notebook of Everything That Was Ever Measured in One Small Studio by the Sea",
    ),
    "another script": factory.bound(
        factory.whole_lesson("骨盆", title="骨盆移动，中心不动", topics=("骨盆", "трение")),
        language="zh",
        title="盐沼笔记",
    ),
    "many topics": factory.bound(
        *[factory.bare_lesson(f"l{n}", number=n, topics=(f"topic {n}", "all")) for n in range(120, 0, -1)]
    ),
    "an author who writes code": factory.bound(
        factory.whole_lesson(title='<script>alert("1")</script> & "so"', summary="<b>bold</b>"),
        title="<i>Notes</i>",
    ),
}


def page_of(lesson: BoundLesson, **site: object) -> Element:
    return parse(pages_of(factory.bound(lesson, **site))[f"lessons/{lesson.lesson.name}/index.html"])


def with_class(page: Element, name: str) -> list[Element]:
    return [element for element in page.iter() if name in (element.get("class") or "").split()]
