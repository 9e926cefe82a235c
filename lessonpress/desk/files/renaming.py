"""A lesson renamed: its file, every link that leads to it, every chart over it, and the address that it had.

All texts are made before one is written. The new file is written first and the old one removed last, so that
what is interrupted leaves the lesson twice and never not at all.
"""

from __future__ import annotations

import re
from collections.abc import Iterable
from pathlib import Path
from posixpath import dirname, relpath

from lessonpress.desk.files.lessonfile import LessonText, create, read
from lessonpress.desk.files.mentions import lesson_mentions, renamed
from lessonpress.desk.files.versions import bytes_of, encoded_like
from lessonpress.desk.files.yamltext import ABSENT, UneditableError, edited, value_at
from lessonpress.desk.http.responses import RequestError
from lessonpress.disk import write_atomically
from lessonpress.manuscript import Lesson, Page, Site, target_of
from lessonpress.press import keep_save
from lessonpress.records import Location

_HREF = re.compile(r"[^\s()<>#?\"']+\.md")


def rename(site: Site, old: Path, new: Path) -> tuple[LessonText, list[str]]:
    """The lesson under its new name, and the paths of the other files that named it, and follow.

    A lesson that was or may have been published keeps its address as a former one, so that readers are led
    on; a draft has none, and that of a private one does not come from its name. Raises RequestError where
    the name is taken or the front matter cannot be edited.
    """
    source, target = f"lessons/{old.name}", f"lessons/{new.name}"
    written = read(old)
    lesson = written.lesson
    if lesson is None:
        raise RequestError(422, "the lesson's front matter has mistakes", "correct it first")
    texts: list[Lesson | Page] = [*site.lessons, *site.pages.values()]
    others = {
        path: text
        for one in texts
        if (path := one.path) != source and (text := _following(site.root, one, old, new)) is not None
    }
    followed = renamed(written.text, lesson_mentions(lesson, old.stem), old.stem, new.stem)
    own = _with_links(followed, source, [link.location for link in lesson.links], source, target)
    if not (lesson.draft or lesson.private):
        own = _with_former(own, old.stem)
    before = bytes_of(old)
    made = create(new, own)
    for path, text in others.items():
        file = site.root / path
        content = bytes_of(file)
        keep_save(file, content)
        write_atomically(file, encoded_like(content, text))
    keep_save(old, before)
    old.unlink()
    return made, sorted(others)


def _following(root: Path, text: Lesson | Page, old: Path, new: Path) -> str | None:
    """A text with its links to the lesson, and its charts over it, changed; None where it has none."""
    source, target = f"lessons/{old.name}", f"lessons/{new.name}"
    places = [link.location for link in text.links if link.target == source]
    mentions = lesson_mentions(text, old.stem) if isinstance(text, Lesson) else ()
    if not places and not mentions:
        return None
    content = bytes_of(root / text.path) or b""
    written = renamed(content.decode("utf-8-sig").replace("\r\n", "\n"), mentions, old.stem, new.stem)
    return _with_links(written, text.path, places, source, target)


def _with_links(text: str, path: str, places: Iterable[Location], source: str, target: str) -> str:
    """The text, a file at `path`, with the links at these places led to `target`, the last first."""
    lines = text.split("\n")
    for place in sorted(places, key=lambda one: (one.line, one.column), reverse=True):
        line = lines[place.line - 1]
        found = _HREF.search(line, place.column - 1)
        if found is not None and target_of(path, found[0]) == source:
            href = relpath(target, dirname(path))
            lines[place.line - 1] = line[: found.start()] + href + line[found.end() :]
    return "\n".join(lines)


def _with_former(text: str, name: str) -> str:
    """The text with its name among its earlier ones."""
    try:
        _, front, body = text.split("---\n", 2)
        there = value_at(front, ("former",))
        names = [] if there is ABSENT else there if isinstance(there, list) else [there]
        return f"---\n{edited(front, ('former',), [*names, name])}---\n{body}"
    except (UneditableError, ValueError) as error:
        raise RequestError(
            422, "its front matter cannot be edited by machine", "rename it by hand"
        ) from error
