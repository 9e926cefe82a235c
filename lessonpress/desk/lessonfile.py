"""A lesson's text read and saved; two changes of one text are merged, or asked about where they collide."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path
from typing import Any

from lessonpress.desk.answers import RefusedError, problems_json
from lessonpress.desk.threeway import merged
from lessonpress.desk.whole import bytes_of, encoded_like, version_of
from lessonpress.disk.atomic import write_atomically
from lessonpress.manuscript.files import decode_text
from lessonpress.manuscript.lesson import Lesson, read_lesson
from lessonpress.manuscript.nodes import Scalar
from lessonpress.manuscript.passage import file_passage
from lessonpress.records.problem import Problem, Problems

LONGEST = 2_000_000  # characters


@dataclass(frozen=True)
class LessonText:
    """A lesson's file. lesson is None where its front matter makes none."""

    name: str
    version: str
    text: str
    lesson: Lesson | None
    problems: tuple[Problem, ...]

    def json(self) -> dict[str, Any]:
        lesson = self.lesson
        return {
            "name": self.name,
            "path": f"lessons/{self.name}.md",
            "version": self.version,
            "text": self.text,
            "title": lesson.title if lesson else None,
            "clip": lesson.clip if lesson else None,
            "problems": problems_json(self.problems),
            "blocks": [] if lesson is None else [_block_json(block) for block in lesson.blocks],
        }


def read(place: Path) -> LessonText:
    """The lesson as it is on disk. Raises RefusedError where there is none, or it is not UTF-8."""
    content = bytes_of(place)
    if content is None:
        raise RefusedError(404, f"there is no lesson `{place.stem}`", "lessons are files lessons/NAME.md")
    problems = Problems()
    path = f"lessons/{place.name}"
    text = decode_text(path, content, problems)
    if text is None:
        told = problems.collected[0]
        raise RefusedError(422, told.wrong, told.right, problems=problems_json(problems.collected))
    lesson = read_lesson(place.stem, file_passage(path, text), problems)
    return LessonText(place.stem, version_of(content), text, lesson, tuple(problems.in_order()))


def save(place: Path, was: str, to: str, *, anyway: bool = False) -> tuple[LessonText, bool]:
    """Writes `to`, which the author made of `was`: the lesson then, and whether it was merged.

    What another program changed meanwhile is merged; RefusedError (409) where both changed the same lines.
    """
    if len(to) > LONGEST:
        raise RefusedError(413, "this text is too long for a lesson", "part it in two")
    before = read(place)
    new: str | tuple[Any, ...] = to
    if not anyway and before.text not in (was, to):
        new = merged(was, to, before.text)
    if isinstance(new, tuple):
        raise RefusedError(
            409,
            f"lessons/{place.name} was changed meanwhile, just where you changed it",
            "look at both, then keep one",
            collisions=[vars(one) for one in new],
            disk=before.text,
            version=before.version,
        )
    if new != before.text:
        write_atomically(place, encoded_like(bytes_of(place), new))
    return read(place), new != to


def create(place: Path, text: str) -> LessonText:
    """Writes a new lesson. Raises RefusedError where there is one of that name."""
    if place.exists():
        raise RefusedError(409, f"there is a lesson `{place.stem}` already", "give another name")
    place.parent.mkdir(exist_ok=True)
    write_atomically(place, text.encode())
    return read(place)


def with_block(text: str, block: str, line: int) -> tuple[str, int]:
    """The text with a block put before a line (from 1; past the end: at the end), and the block's line.

    Blank lines stand about it, no more than are needed. A line inside a block or the front matter would
    break it, so the block is put after that.
    """
    lines = text.split("\n")
    while lines and not lines[-1]:
        lines.pop()
    at = _outside(text, min(max(line - 1, 0), len(lines)))
    above = [""] if at and lines[at - 1].strip() else []
    below = [""] if at < len(lines) and lines[at].strip() else []
    put = block.strip("\n").split("\n")
    return "\n".join([*lines[:at], *above, *put, *below, *lines[at:]]) + "\n", at + len(above) + 1


def _outside(text: str, at: int) -> int:
    """`at` (a line from 0), or the line after the block or front matter that it lies in."""
    lesson = read_lesson("x", file_passage("x", text), Problems())
    if lesson is None:
        return at
    if at < lesson.body_line - 1:
        return lesson.body_line - 1
    for block in lesson.blocks:
        last = _last_line(block.line, block.text)
        if block.line - 1 < at < last:
            return last
    return at


def _last_line(line: int, text: str) -> int:
    """The file's line of a block's closing fence."""
    return line + (text.count("\n") + 1 if text else 0) + 1


def _block_json(block: Any) -> dict[str, Any]:
    given = block.node.get("id") if block.node is not None else None
    return {
        "kind": block.kind,
        "id": given.written if isinstance(given, Scalar) else None,
        "line": block.line,
        "last_line": _last_line(block.line, block.text),
    }
