"""What the lessons of a site say of each other and of its clips."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping

from lessonpress.manuscript.clip import Clip
from lessonpress.manuscript.lesson import Lesson
from lessonpress.records.problem import Problems, nearest

# what the press writes at the site's start besides lessons
OWN = frozenset(
    [
        "archive",
        "topics",
        "pages",
        "assets",
        "index.html",
        "404.html",
        "feed.xml",
        "feed.json",
        "sitemap.xml",
        "robots.txt",
    ]
)


def check_lessons(lessons: Iterable[Lesson], clips: Mapping[str, Clip], problems: Problems) -> None:
    """Report unknown clips, numbers and former paths given twice, and dates out of order."""
    lessons = list(lessons)
    for check in CHECKS:
        check(lessons, clips, problems)


def _clips(lessons: list[Lesson], clips: Mapping[str, Clip], problems: Problems) -> None:
    for lesson in lessons:
        if lesson.clip is not None and lesson.clip not in clips:
            place = lesson.place_of("clip")
            right = "" if clips else "make a folder for it under clips"
            problems.error(
                place, f"there is no clip `{lesson.clip}`", right, nearest=nearest(lesson.clip, clips)
            )


def _numbers(lessons: list[Lesson], clips: Mapping[str, Clip], problems: Problems) -> None:
    taken: dict[int, str] = {}
    for lesson in sorted(lessons, key=lambda lesson: (lesson.date, lesson.name)):
        if lesson.number is None:
            continue
        if lesson.number in taken:
            wrong = f"the number {lesson.number} is taken by {taken[lesson.number]}"
            right = f"{max(taken) + 1} is free"
            problems.error(lesson.place_of("number"), wrong, right)
        taken.setdefault(lesson.number, lesson.path)


def _former(lessons: list[Lesson], clips: Mapping[str, Clip], problems: Problems) -> None:
    taken = {f"lessons/{lesson.name}": lesson.path for lesson in lessons}
    for lesson in lessons:
        for at, path in enumerate(lesson.former):
            place = lesson.place_of("former", at)
            clean = path.strip("/").removesuffix("/index.html")
            refused = _refused(path)
            if refused is not None:
                problems.error(place, *refused)
            elif clean in taken:
                problems.error(
                    place, f"`{path}` is taken by {taken[clean]}", "a path redirects to one lesson"
                )
            taken.setdefault(clean, lesson.path)


def _refused(path: str) -> tuple[str, str] | None:
    """What is wrong with a former path by itself, and what would be right."""
    clean = path.strip("/")
    if "//" in path or ":" in path or "\\" in path or ".." in path.split("/") or not clean:
        return f"`{path}` is no path of this site", "write it from the site's start, `lessons/hips`"
    if clean.partition("/")[0] in OWN:
        return f"`{path}` belongs to the site's own pages", "name a path that the lesson itself once had"
    return None


def _updated(lessons: list[Lesson], clips: Mapping[str, Clip], problems: Problems) -> None:
    for lesson in lessons:
        if lesson.updated and lesson.updated < lesson.date:
            problems.error(
                lesson.place_of("updated"), "the lesson is updated before its date", "mend one of the dates"
            )


CHECKS: tuple[Callable[[list[Lesson], Mapping[str, Clip], Problems], None], ...] = (
    _clips,
    _numbers,
    _former,
    _updated,
)
