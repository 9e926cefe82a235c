"""Which caution a lesson without one of its own is given from the theme.

The site is about bodies and fast implements: a lesson with a drill, or with words about the back, pain,
injury or rehabilitation, asks its reader to warm up, to stop on pain, to clear the space and whom to see.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping
from typing import Any

from lessonpress.figures import BoundLesson
from lessonpress.manuscript import Lesson

CAUTION = "caution"
DRILL = "drill"


def needed(bound: BoundLesson, words: Mapping[str, Any]) -> bool:
    """Whether the lesson needs a caution that its author did not write, or wrote too late.

    words: of the theme; `caution.about` lists regular expressions of what needs a caution.
    """
    kinds = {block.kind for block in bound.lesson.blocks}
    if CAUTION in kinds:
        return comes_late(bound.lesson)
    return DRILL in kinds or about_the_body(_written(bound), words["caution"]["about"])


def comes_late(lesson: Lesson) -> bool:
    """Whether the first drill is read before any caution. One right below the drill is printed before it."""
    boxes = [block for block in lesson.blocks if block.kind in (CAUTION, DRILL)]
    for block in boxes:
        if block.kind == CAUTION:
            return False
        after = block.line + block.text.count("\n") + 3  # past its text and the fence that closes it
        follows = next((other for other in boxes if other.line > block.line), None)
        if follows is None or _words_between(lesson, after, follows.line):
            return True
    return False


def _words_between(lesson: Lesson, first: int, end: int) -> bool:
    """Whether anything is written in the lines of the file from `first` up to, not including, `end`."""
    lines = lesson.body.split("\n")[first - lesson.body_line : end - lesson.body_line]
    return any(line.strip() for line in lines)


def about_the_body(texts: Iterable[str], patterns: Iterable[str]) -> bool:
    """Whether any of the texts speaks of what needs a caution."""
    spoken = re.compile("|".join(f"(?:{pattern})" for pattern in patterns), re.IGNORECASE)
    return any(spoken.search(text) for text in texts)


def _written(bound: BoundLesson) -> Iterator[str]:
    """What a reader reads of the author's: title, summary, prose with its blocks, captions."""
    yield bound.lesson.title
    yield bound.lesson.summary or ""
    yield bound.lesson.body
    for plate in bound.plates:
        yield plate.caption
