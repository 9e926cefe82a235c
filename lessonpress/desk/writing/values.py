"""What the value of a key may be: marks, events, ranges, sets, clips, lessons, measures, choices."""

from __future__ import annotations

import re
from collections.abc import Callable, Collection, Iterable, Iterator

from lessonpress.desk.writing.fieldkinds import Names, choices_of, names_of
from lessonpress.desk.writing.known import Known
from lessonpress.desk.writing.place import FRONT, Place
from lessonpress.desk.writing.words import Offer, number_words
from lessonpress.desk.writing.writablekeys import model_at
from lessonpress.figures import SurveyedClip
from lessonpress.manuscript import Lesson, Mapping, Scalar
from lessonpress.records import KNOWN_MARKS

_CLIPS = re.compile(r"\bclips?:\s*\[?\s*([\w.-]+(?:\s*,\s*[\w.-]+)*)")
_INSTANTS = re.compile(r"\b(?:at|from|to|frames):\s*\[?\s*([\w-]+(?:\s*,\s*[\w-]+)*)")
_WORD = re.compile(r"[\w.-]+")


def value_offers(place: Place, known: Known) -> Iterator[Offer]:
    """What fits the key of a place; nothing where it takes a text of the author's own."""
    names = named_at(place)
    if names:
        yield from (one for one in _NAMES[names](place, known) if one.name not in place.there)
        return
    model = model_at(place)
    for word in choices_of(model, place.key) if model is not None else ():
        yield Offer(word, word, "")


def named_at(place: Place) -> Names:
    """What the key of a place names; "" where it names nothing of the site."""
    model = model_at(place)
    if model is None:
        return "set" if place.key == "use" else ""
    return names_of(model, place.key)


def _in_order(marks: Iterable[str], room: Collection[str]) -> list[str]:
    """Marks of the body as they are known, then the author's own, then those of the room."""

    def rank(mark: str) -> tuple[int, int, str]:
        known = KNOWN_MARKS.index(mark) if mark in KNOWN_MARKS else len(KNOWN_MARKS)
        return int(mark in room), known, mark

    return sorted(marks, key=rank)


def _films(place: Place, known: Known) -> tuple[SurveyedClip, ...]:
    """The clips of the figure around a place."""
    named = [name for found in _CLIPS.findall(place.figure) for name in _WORD.findall(found)]
    return known.clips_at(named)


def _marks(place: Place, known: Known) -> Iterator[Offer]:
    """Those placed on the figure's pictures first, then others of the clip, then those that are known."""
    films = _films(place, known)
    shown = [name for found in _INSTANTS.findall(place.figure) for name in _WORD.findall(found)]
    here, others = [], []
    room = {mark for film in films for mark in film.card.room}
    for mark in _in_order({name for film in films for name in film.mark_names}, room):
        missing = [name for name in shown if not all(_sees(film, mark, name) for film in films)]
        if missing:
            others.append(Offer(mark, mark, f"not placed at {', '.join(dict.fromkeys(missing))}"))
        else:
            here.append(Offer(mark, mark, "placed here" if shown else ""))
    yield from (*here, *others)
    there = {one.name for one in (*here, *others)}
    yield from (Offer(mark, mark, "not placed yet") for mark in KNOWN_MARKS if mark not in there)


def _sees(film: SurveyedClip, mark: str, instant: str) -> bool:
    """Whether a mark is placed at an event or a frame; one that says neither is no reason against it."""
    frame = film.events.get(instant, int(instant) if instant.isdecimal() else None)
    return frame is None or film.sees(mark, frame)


def _instants(place: Place, known: Known) -> Iterator[Offer]:
    films = _films(place, known)
    events = {name: frame for film in films for name, frame in film.events.items()}
    for name in sorted(events, key=lambda one: events[one]):
        words = [
            f"frame {film.events[name]}, {film.seconds[film.events[name]]:.2f} s"
            if name in film.events
            else f"not in {film.name}"
            for film in films
        ]
        yield Offer(name, name, "; ".join(words))


def _clips(place: Place, known: Known) -> Iterator[Offer]:
    for clip in known.site.clips.values():
        events = ", ".join(clip.card.events) if clip.card else "its card waits for answers"
        title = f"{clip.title}, " if clip.title != clip.name else ""
        yield Offer(clip.name, clip.name, f"{title}{events}")


def _lessons(place: Place, known: Known) -> Iterator[Offer]:
    for lesson in reversed(known.site.lessons):
        yield Offer(lesson.name, lesson.name, f"{lesson.title}, {lesson.date.isoformat()}")


def _sets(place: Place, known: Known) -> Iterator[Offer]:
    for name, overlays in known.site.sets.items():
        yield Offer(name, name, "; ".join(_overlay_words(one) for one in overlays))


def _overlay_words(overlay: Mapping) -> str:
    key, value = overlay.entries[0]
    named = value.items if not isinstance(value, Scalar | Mapping) else (value,)
    return " ".join([key.written, *(one.written for one in named if isinstance(one, Scalar))]).rstrip()


def _ranges(place: Place, known: Known) -> Iterator[Offer]:
    for name, named in known.site.ranges.items():
        yield Offer(name, name, named.range.text)


def _measures(place: Place, known: Known) -> Iterator[Offer]:
    """Front matter names a number of its own lesson, a progress one that several lessons have."""
    if place.kind != FRONT:
        for name, lessons in known.measures_of_lessons().items():
            yield Offer(name, name, f"in {', '.join(lessons)}")
        return
    bound = known.bound()
    for name, measure in (bound.measures if bound else {}).items():
        yield Offer(name, name, f"{measure.words}: {number_words(measure, known.site.units)}")


def _topics(place: Place, known: Known) -> Iterator[Offer]:
    yield from _counted(topic for lesson in _others(known) for topic in lesson.topics)


def _series(place: Place, known: Known) -> Iterator[Offer]:
    yield from _counted(lesson.series for lesson in _others(known) if lesson.series)


def _others(known: Known) -> tuple[Lesson, ...]:
    name = known.lesson.name if known.lesson else ""
    return tuple(lesson for lesson in known.site.lessons if lesson.name != name)


def _counted(names: Iterable[str]) -> Iterator[Offer]:
    often: dict[str, int] = {}
    for name in names:
        often[name] = often.get(name, 0) + 1
    for name, times in sorted(often.items(), key=lambda one: (-one[1], one[0])):
        yield Offer(name, name, f"in {times} {'lesson' if times == 1 else 'lessons'}")


_NAMES: dict[Names, Callable[[Place, Known], Iterator[Offer]]] = {
    "mark": _marks,
    "instant": _instants,
    "clip": _clips,
    "lesson": _lessons,
    "set": _sets,
    "range": _ranges,
    "measure": _measures,
    "topic": _topics,
    "series": _series,
}
