"""The home page: the latest lesson as one plate, earlier ones as squares, the topics as a book's index."""

from __future__ import annotations

from collections.abc import Sequence

from lessonpress.figures import BoundLesson, Panel, Plate
from lessonpress.pages.cautions import DRILL
from lessonpress.pages.entries import lesson_entry, listed_lessons
from lessonpress.pages.frame import PageContext
from lessonpress.pages.links import HOME_PAGE
from lessonpress.pages.plates import Layout, Overlaid, overlaid
from lessonpress.pages.sharing import shared_picture
from lessonpress.pages.topics import letters_of
from lessonpress.pages.words import counted

EARLIER = 8  # squares on the home page; the rest is in the archive
FRAMES = 3  # of the latest lesson, where the page is wide
TOPICS = 60  # in the home page's index; the rest is on the topics' own page


def home_page(context: PageContext) -> tuple[str, bytes]:
    """The path and the content of the home page."""
    lessons = listed_lessons(context.bound.lessons)
    latest, earlier = (lessons[0], lessons[1:]) if lessons else (None, ())
    topics = context.topics
    return HOME_PAGE, context.page(
        "home.html",
        HOME_PAGE,
        title="",
        summary=context.described,
        latest=latest,
        shared=None if latest is None else shared_picture(latest, context),
        frames=() if latest is None else frames(latest, context),
        contents=() if latest is None else contents(latest, context),
        earlier=[lesson_entry(bound, context) for bound in earlier[:EARLIER]],
        earlier_count=len(earlier),
        index_letters=letters_of(topics[:TOPICS]),
        more_topics=len(topics) > TOPICS,
    )


def frames(latest: BoundLesson, context: PageContext) -> tuple[Overlaid, ...]:
    """Up to three pictures of the lesson in the order of the swing; the last is the one a phone shows."""
    chosen = chosen_panels(latest.plates)
    units = context.bound.site.units
    layout: Layout = "opening" if len(chosen) == 1 else "page"
    return tuple(
        overlaid(panel, context.book, units, f"latest-{position}", layout, say=context.say)
        for position, panel in enumerate(chosen, 1)
    )


def chosen_panels(plates: Sequence[Plate]) -> tuple[Panel, ...]:
    """Three pictures that show the lesson: of its first strip, else of all its plates.

    Of a picture that several plates show the last is taken, which has the most drawn on it.
    """
    strip = next((plate.panels for plate in plates if plate.kind == "strip"), None)
    panels = strip or tuple(panel for plate in plates for panel in plate.panels)
    by_frame = {(panel.clip, panel.frame): panel for panel in panels}
    clips = list(dict.fromkeys(panel.clip for panel in panels))
    ordered = sorted(by_frame.values(), key=lambda panel: (clips.index(panel.clip), panel.frame))
    if len(ordered) <= FRAMES:
        return tuple(ordered)
    return ordered[0], ordered[(len(ordered) - 1) // 2], ordered[-1]


def contents(latest: BoundLesson, context: PageContext) -> tuple[str, ...]:
    """What the lesson holds: ("three plates", "six measures", "one drill"), without what it has none of."""
    numbers = {
        "plate": len(latest.plates),
        "measure": sum(measure.value is not None for measure in latest.measures.values()),
        "drill": sum(block.kind == DRILL for block in latest.lesson.blocks),
    }
    return tuple(counted(number, noun, context.words) for noun, number in numbers.items() if number)
