"""What lies beside a lesson, at its earlier addresses too: a diagram in a newsletter keeps its picture."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from lessonpress.figures.plates import BoundSite
from lessonpress.pages import links


def with_former(bound: BoundSite, files: Iterable[tuple[str, bytes]]) -> Iterator[tuple[str, bytes]]:
    """The files of a site, and a copy of each that lies beside a lesson under every earlier name of it.

    Only under `lessons/NAME`, where the press once put it; a page leads on by itself (pages/former.py).
    """
    earlier = {
        lesson.name: [path for path in lesson.former if _names_a_lesson(path)]
        for lesson in (one.lesson for one in bound.lessons)
    }
    for path, content in files:
        yield path, content
        start, _, rest = path.partition("/")
        name, _, file = rest.partition("/")
        if start == "lessons" and file and path != links.lesson(name):
            yield from ((f"{former}/{file}", content) for former in earlier.get(name, ()))


def _names_a_lesson(path: str) -> bool:
    return path.startswith("lessons/") and path.count("/") == 1 and not path.endswith((".html", ".htm"))
