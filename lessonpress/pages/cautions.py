"""Which caution a lesson without one of its own is given from the theme.

The site is about bodies and fast implements: a lesson with a drill, or with words about the back, pain,
injury or rehabilitation, asks its reader to warm up, to stop on pain, to clear the space and whom to see.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping
from typing import Any

from lessonpress.figures import BoundLesson

CAUTION = "caution"
DRILL = "drill"


def needed(bound: BoundLesson, words: Mapping[str, Any]) -> bool:
    """Whether the lesson needs a caution that its author did not write.

    words: of the theme; `caution.about` lists regular expressions of what needs a caution.
    """
    kinds = {block.kind for block in bound.lesson.blocks}
    if CAUTION in kinds:
        return False
    return DRILL in kinds or about_the_body(_written(bound), words["caution"]["about"])


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
