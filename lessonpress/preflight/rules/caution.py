"""A drill, or advice that asks much of a body, without a caution before it.

The press sets a general one where a lesson with a drill has none; the author's own knows the drill. One that
comes after the drill is read too late.
"""

from __future__ import annotations

from collections.abc import Iterator

from lessonpress.manuscript import Block
from lessonpress.preflight.finding import Finding, Severity
from lessonpress.preflight.rule import LooksAt
from lessonpress.preflight.subjects import LessonSubject

NAME = "caution"
SEVERITY: Severity = "warning"
LOOKS_AT: LooksAt = "lesson"

_RIGHT = "what to do first, what to watch for, when to stop, whom to ask"


def find(subject: LessonSubject) -> Iterator[Finding]:
    cautions = [block.line for block in subject.lesson.blocks if block.kind == "caution"]
    drills = [block for block in subject.lesson.blocks if block.kind == "drill"]
    for drill in drills[:1]:
        yield from _of_drill(drill, cautions)
    if not cautions and not drills:
        yield from _of_advice(subject)


def _of_drill(drill: Block, cautions: list[int]) -> Iterator[Finding]:
    if not cautions:
        wrong = "this drill has no caution of yours, so the press prints its general one"
        yield Finding(
            NAME, SEVERITY, drill.location, wrong, f"write a `caution` before it: {_RIGHT}", drill.text
        )
    elif min(cautions) > drill.line:
        wrong = f"this drill comes before its caution of line {min(cautions)}, which is then read too late"
        yield Finding(NAME, SEVERITY, drill.location, wrong, "move the caution before it", drill.text)


def _of_advice(subject: LessonSubject) -> Iterator[Finding]:
    """The first sentence that asks its reader for something that a body can be hurt by."""
    words = subject.words
    if words is None:
        return
    for sentence in subject.sentences:
        if sentence.run.kind in ("quote", "label", "alt", "title", "summary", "heading"):
            continue
        asked = words.any_of("asks_much").search(sentence.text)
        if asked and words.any_of("to_reader").search(sentence.text):
            wrong = f"`{asked[0]}` is asked of a body, and the lesson has no caution"
            yield Finding(
                NAME, SEVERITY, sentence.at(asked.start()), wrong, f"write one: {_RIGHT}", sentence.said
            )
            return
