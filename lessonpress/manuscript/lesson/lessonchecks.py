"""Checks across the lessons of a site and its clips."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterable, Mapping
from datetime import date

from lessonpress.manuscript.clip.clip import Clip
from lessonpress.manuscript.fields.invalid_value import InvalidValueError
from lessonpress.manuscript.fields.names import plain_name
from lessonpress.manuscript.lesson.lesson import Lesson
from lessonpress.manuscript.lesson.privateaddress import fresh_address
from lessonpress.manuscript.site.formerpath import as_one_file, file_at, former_path
from lessonpress.records import Problems, nearest

ALIKE = 0.8  # ratio from which two topics are taken for one that is misspelt

# what the press writes at the site's start besides lessons
OWN = frozenset(
    [
        "archive",
        "topics",
        "settings",
        "pages",
        "assets",
        "files",
        "index.html",
        "404.html",
        "feed.xml",
        "feed.json",
        "sitemap.xml",
        "robots.txt",
        "pictures",
        "press.json",
        "offline.json",
        "offline.js",
        "site.webmanifest",
        "measures.csv",
        "measures.jsonl",
        "measures.schema.json",
    ]
)


def check_lessons(
    lessons: Iterable[Lesson], clips: Mapping[str, Clip], today: date, problems: Problems
) -> None:
    """Report unknown clips, numbers and former paths given twice, addresses that can be guessed, odd dates
    and topics."""
    lessons = list(lessons)
    _days_to_come(lessons, today, problems)
    for check in CHECKS:
        check(lessons, clips, problems)


def _clips(lessons: list[Lesson], clips: Mapping[str, Clip], problems: Problems) -> None:
    for lesson in lessons:
        if lesson.clip is not None and lesson.clip not in clips:
            location = lesson.location_of("clip")
            right = "" if clips else "make a folder for it under clips"
            problems.error(
                location, f"there is no clip `{lesson.clip}`", right, nearest=nearest(lesson.clip, clips)
            )


def _numbers(lessons: list[Lesson], clips: Mapping[str, Clip], problems: Problems) -> None:
    taken: dict[int, str] = {}
    for lesson in sorted(lessons, key=lambda lesson: (lesson.date, lesson.name)):
        if lesson.number is None:
            continue
        if lesson.number in taken:
            wrong = f"the number {lesson.number} is taken by {taken[lesson.number]}"
            right = f"{max(taken) + 1} is free"
            problems.error(lesson.location_of("number"), wrong, right)
        taken.setdefault(lesson.number, lesson.path)


def _former(lessons: list[Lesson], clips: Mapping[str, Clip], problems: Problems) -> None:
    taken = {as_one_file(f"lessons/{lesson.name}"): lesson.path for lesson in lessons}
    for lesson in lessons:
        for at, written in enumerate(lesson.front.former):
            location = lesson.location_of("former", at)
            try:
                path = former_path(written)
            except InvalidValueError as error:
                problems.error(location, error.wrong, error.right)
                continue
            key = as_one_file(path)
            if key.partition("/")[0] in OWN:
                wrong = f"`{path}` belongs to the site's own pages"
                problems.error(location, wrong, "name a path that the lesson itself once had")
            elif there := _in_the_way(key, taken):
                problems.error(location, f"`{path}` is taken by {there}", "a path redirects to one lesson")
            else:
                taken[key] = lesson.path


def _private(lessons: list[Lesson], clips: Mapping[str, Clip], problems: Problems) -> None:
    """A lesson for one person has an address that cannot be guessed, and nothing that leads there."""
    taken: dict[str, str] = {lesson.name.lower(): lesson.path for lesson in lessons}
    for lesson in lessons:
        address = lesson.front.address
        if not lesson.private:
            if address is not None:
                right = "write `for: NAME` too, or take the address out"
                problems.error(
                    lesson.location_of("address"), "an address goes with a lesson for one person", right
                )
            continue
        if address is None and not lesson.front.lost("address"):
            right = f"write `address: {fresh_address()}` below it, and keep it: the link stays good"
            problems.error(
                lesson.location_of("for"),
                "this lesson is for one person, and its address can be guessed",
                right,
            )
        elif address in taken:
            wrong = f"the address is that of {taken[address]}"
            problems.error(lesson.location_of("address"), wrong, f"take another, such as `{fresh_address()}`")
        elif address is not None:
            taken[address] = lesson.path
        if lesson.front.former:
            wrong = "an earlier path would lead to a lesson for one person"
            problems.error(lesson.location_of("former"), wrong, "take `former` out, and send the new address")


def _in_the_way(key: str, taken: Mapping[str, str]) -> str | None:
    """Who has the path, a path below it or one above; a folder of a former path may hold others."""
    for other, path in taken.items():
        below, above = other.startswith(f"{key}/"), key.startswith(f"{other}/")
        if key == other or (below and _is_file(key)) or (above and (_is_file(other) or _is_lesson(other))):
            return path
    return None


def _is_file(key: str) -> bool:
    return file_at(key) == key


def _is_lesson(key: str) -> bool:
    """Whether files of a lesson, its diagrams and data, are or once were in the folder."""
    return key.startswith("lessons/") and key.count("/") == 1


def _updated(lessons: list[Lesson], clips: Mapping[str, Clip], problems: Problems) -> None:
    for lesson in lessons:
        if lesson.updated and lesson.updated < lesson.date:
            problems.error(
                lesson.location_of("updated"),
                "the lesson is updated before its date",
                "correct one of the dates",
            )


def _days_to_come(lessons: list[Lesson], today: date, problems: Problems) -> None:
    for lesson in lessons:
        day = lesson.updated
        if day is not None and day > max(today, lesson.date) and not lesson.draft:
            right = "readers see it from now on; correct the date"
            problems.warn(lesson.location_of("updated"), f"{day} is in the future", right)


def _topics(lessons: list[Lesson], clips: Mapping[str, Clip], problems: Problems) -> None:
    """A topic that looks like a more usual one, or like one that was there before it."""
    in_order = sorted(lessons, key=lambda one: (one.date, one.name))
    first: dict[str, str] = {}
    for topic in (topic for lesson in in_order for topic in lesson.topics):
        first.setdefault(_bare(topic), topic)
    often = Counter(_bare(topic) for lesson in lessons for topic in lesson.topics)
    usual = sorted(first, key=lambda bare: -often[bare])
    for lesson in lessons:
        for at, topic in enumerate(lesson.topics):
            others = usual[: usual.index(_bare(topic))]
            named = plain_name(topic)
            near = [first[other] for other in others if nearest(named, [plain_name(other)], cutoff=ALIKE)]
            if near:
                location = lesson.location_of("topics", at)
                wrong = f"the topic `{topic}` is spelled unlike one of the others"
                problems.warn(location, wrong, "each spelling has a page of its own", nearest=near[:1])


def _bare(topic: str) -> str:
    """A topic without what makes no difference: capitals and spaces."""
    return " ".join(topic.casefold().split())


CHECKS: tuple[Callable[[list[Lesson], Mapping[str, Clip], Problems], None], ...] = (
    _clips,
    _numbers,
    _former,
    _private,
    _updated,
    _topics,
)
