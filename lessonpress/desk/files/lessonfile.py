"""A lesson's text read and saved; two changes of one text are merged, or asked about where they collide."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path
from typing import Any

from lessonpress.desk.files import filesave
from lessonpress.desk.files.filesave import Codec, Collision
from lessonpress.desk.files.threeway import merged
from lessonpress.desk.files.versions import bytes_of, version_of
from lessonpress.desk.http.requests import TextEdit
from lessonpress.desk.http.responses import RequestError, problems_json
from lessonpress.disk import write_atomically
from lessonpress.manuscript import Block, Lesson, Scalar, decode_text, file_passage, read_lesson
from lessonpress.records import Problem, Problems

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
            "blocks": blocks_json(lesson),
        }


def read(file: Path) -> LessonText:
    """The lesson as it is on disk. Raises RequestError where there is none, or it is not UTF-8."""
    content = bytes_of(file)
    if content is None:
        raise RequestError(404, f"there is no lesson `{file.stem}`", "lessons are files lessons/NAME.md")
    path, problems = f"lessons/{file.name}", Problems()
    text = _decoded(path, content)
    lesson = read_lesson(file.stem, file_passage(path, text), problems)
    return LessonText(file.stem, version_of(content), text, lesson, tuple(problems.in_order()))


def save(file: Path, edit: TextEdit, *, anyway: bool = False) -> tuple[LessonText, bool]:
    """Writes the text that the author made: the lesson then, and whether it was merged.

    What another program changed meanwhile is merged; RequestError (409) where both changed the same lines.
    """
    if len(edit.to) > LONGEST:
        raise RequestError(413, "this text is too long for a lesson", "part it in two")
    saved = filesave.save(LessonCodec(), file, [edit], anyway=anyway)
    return read(file), saved.text != edit.to


def create(file: Path, text: str) -> LessonText:
    """Writes a new lesson. Raises RequestError where there is one of that name."""
    if file.exists():
        raise RequestError(409, f"there is a lesson `{file.stem}` already", "give another name")
    _decoded(f"lessons/{file.name}", text.encode())
    file.parent.mkdir(exist_ok=True)
    write_atomically(file, text.encode())
    return read(file)


class LessonCodec(Codec[TextEdit]):
    """The place is the whole text. One with mistakes is saved all the same: it is the author's."""

    def name_of(self, file: Path) -> str:
        return f"lessons/{file.name}"

    def opened(self, file: Path, _content: bytes | None) -> str:
        return read(file).text

    def current(self, text: str, _edit: TextEdit) -> str:
        return text

    def merged(self, edit: TextEdit, disk: str) -> TextEdit | Collision:
        made = merged(edit.was, edit.to, disk)
        if isinstance(made, str):
            return edit.model_copy(update={"to": made})
        return Collision(tuple(vars(one) for one in made), {"disk": disk})

    def written(self, _text: str, edit: TextEdit) -> str:
        return edit.to

    def check(self, file: Path, _before: str, after: str) -> None:
        """What is saved must be readable again."""
        _decoded(self.name_of(file), after.encode())


def put_block(file: Path, block: str, line: int) -> tuple[LessonText, int]:
    """Puts a block before a line of the file: the lesson then, and the line of the block's fence."""
    before = read(file).text
    after, at = with_block(before, block, line)
    saved, _ = save(file, TextEdit(was=before, to=after))
    return saved, at


def _decoded(path: str, content: bytes) -> str:
    """The text that a lesson's file holds. Raises RequestError for what is not a text."""
    problems = Problems()
    text = decode_text(path, content, problems)
    if text is None:
        first = problems.collected[0]
        raise RequestError(422, first.wrong, first.right, problems=problems_json(problems.collected))
    return text


def with_block(text: str, block: str, line: int) -> tuple[str, int]:
    """The text with a block put before a line (from 1; past the end: at the end), and the block's line.

    Blank lines are set around it, no more than are needed. A line inside a block or the front matter would
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


def blocks_json(lesson: Lesson | None) -> list[dict[str, Any]]:
    """The blocks of a lesson, in the order of its figures' numerals. plate: its figure's id on the page."""
    blocks = lesson.blocks if lesson else ()
    figures = [block.line for block in blocks if block.is_figure]
    return [_block_json(one, figures.index(one.line) + 1 if one.is_figure else None) for one in blocks]


def _block_json(block: Block, number: int | None) -> dict[str, Any]:
    given = block.node.get("id") if block.node is not None else None
    name = given.written if isinstance(given, Scalar) else None
    return {
        "kind": block.kind,
        "id": name,
        "line": block.line,
        "last_line": _last_line(block.line, block.text),
        "plate": None if number is None else name or f"plate-{number}",
    }
