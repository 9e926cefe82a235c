"""What a site has for a place of a lesson's text: names, with what they are or what they will print."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass

from lessonpress.desk.writing.fieldkinds import Names
from lessonpress.desk.writing.known import Known
from lessonpress.desk.writing.place import Asked, Place
from lessonpress.desk.writing.values import named_at, value_offers
from lessonpress.desk.writing.words import Offer, number_words
from lessonpress.desk.writing.writablekeys import key_offers, overlay_offers
from lessonpress.figures import FIGURES, text_of
from lessonpress.manuscript import FORMS, KINDS
from lessonpress.records import Measure, Reading

MOST = 60  # offers of one place: a list that is longer is narrowed by typing on

_TEXTS = {
    "caution": "What to look out for, in words.",
    "drill": "An exercise, in steps.",
    "example": "A block and what it becomes.",
}


@dataclass(frozen=True)
class Offers:
    """of: what they are, for who hears them. rows: the best first."""

    of: str
    rows: tuple[Offer, ...]


def offers_at(place: Place, known: Known) -> Offers:
    """What fits a place and begins with what is typed there; after that what has it in its middle."""
    of, make = _MADE[place.asked]
    if place.asked == "value":
        of = _NAMED[named_at(place)]
    typed = place.typed.lower()
    fitting = [one for one in make(place, known) if typed in one.name.lower()]
    fitting.sort(key=lambda one: not one.name.lower().startswith(typed))
    whole = len(fitting) == 1 and fitting[0].name == place.typed
    return Offers(of, () if whole else tuple(fitting[:MOST]))


def _braces(place: Place, known: Known) -> Iterator[Offer]:
    bound = known.bound()
    if bound is None:
        return
    for name, measure in bound.measures.items():
        yield Offer(name, f"{name}}}", f"{measure.words}: {number_words(measure, known.site.units)}")
    if bound.plates:
        yield Offer("figure", "figure:", "a link to a plate of this lesson", back=0)


def _forms(place: Place, known: Known) -> Iterator[Offer]:
    bound = known.bound()
    measure = bound.named.get(place.id) if bound else None
    if measure is None or measure.value is None:
        return
    reading = Reading(known.site.units)
    for form in FORMS:
        if _has(measure, form):
            yield Offer(form, f"{form}}}", text_of(measure, form, reading))


def _has(measure: Measure, form: str) -> bool:
    """Whether a measure can be printed in a form."""
    return {
        "answer": measure.answer is not None,
        "clock": measure.dimension == "clock",
        "way": bool(measure.way),
        "cm": measure.dimension == "length",
        "in": measure.dimension == "length",
    }.get(form, True)


def _plates(place: Place, known: Known) -> Iterator[Offer]:
    bound = known.bound()
    for plate in bound.plates if bound else ():
        labels = ", ".join(dict.fromkeys(panel.label for panel in plate.panels))
        yield Offer(
            plate.id, f"{plate.id}}}", f"plate {plate.numeral}, {plate.kind}{f': {labels}' * bool(labels)}"
        )


def _texts(place: Place, known: Known) -> Iterator[Offer]:
    """Lessons and pages that a link may lead to."""
    mine = known.lesson
    for lesson in reversed(known.site.lessons):
        reachable = not (lesson.private or lesson.withheld) or (mine is not None and mine.withheld)
        if lesson is not mine and reachable:
            yield Offer(f"{lesson.name}.md", f"{lesson.name}.md)", f"lesson: {lesson.title}")
    for page in known.site.pages.values():
        yield Offer(f"../{page.path}", f"../{page.path})", f"page: {page.title}")


def _blocks(place: Place, known: Known) -> Iterator[Offer]:
    for kind in KINDS:
        told = FIGURES[kind].__doc__ if kind in FIGURES else _TEXTS[kind]
        yield Offer(kind, kind, (told or "").partition("\n")[0])


_Made = Callable[[Place, Known], Iterable[Offer]]
_MADE: dict[Asked, tuple[str, _Made]] = {
    "brace": ("numbers of this lesson", _braces),
    "form": ("forms of the number", _forms),
    "figure": ("plates of this lesson", _plates),
    "page": ("lessons and pages", _texts),
    "block": ("kinds of blocks", _blocks),
    "key": ("keys", key_offers),
    "overlay": ("overlays", overlay_offers),
    "value": ("values", value_offers),
}
_NAMED: dict[Names, str] = {
    "mark": "marks",
    "instant": "events",
    "clip": "clips",
    "lesson": "lessons",
    "set": "sets of site.yaml",
    "range": "ranges of site.yaml",
    "measure": "numbers",
    "topic": "topics of other lessons",
    "series": "series of other lessons",
    "": "values",
}
