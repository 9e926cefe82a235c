"""Inches said of a body on a clip that has no scale: nothing on the page can bear them out."""

from __future__ import annotations

from collections.abc import Iterator

from lessonpress.preflight.finding import Finding, Severity
from lessonpress.preflight.reading.quantities import quantities_in
from lessonpress.preflight.reading.sentences import Sentence
from lessonpress.preflight.reading.wordlist import WordList
from lessonpress.preflight.rule import LooksAt
from lessonpress.preflight.rules.typed_number import NOT_READ, is_of_a_body
from lessonpress.preflight.subjects import LessonSubject

NAME = "no-scale"
SEVERITY: Severity = "severe"
LOOKS_AT: LooksAt = "lesson"


def find(subject: LessonSubject) -> Iterator[Finding]:
    words = subject.words
    scaleless = [name for name, card in subject.cards.items() if not card.scale]
    if words is None or not scaleless or len(scaleless) < len(subject.cards):
        return
    for sentence in subject.sentences:
        if sentence.run.kind in NOT_READ or sentence.asks or not _of_marks(sentence, words):
            continue
        for said in quantities_in(sentence.text, words):
            if said.dimension == "length" and is_of_a_body(said, sentence, words):
                wrong = f"`{said.written}` is said of a body, and the clip `{scaleless[0]}` has no scale"
                right = "add `scale` to its card and print the measure, or say it without a number"
                yield Finding(NAME, SEVERITY, sentence.at(said.start), wrong, right, sentence.said)
                break


def _of_marks(sentence: Sentence, words: WordList) -> bool:
    """Whether the sentence, or the one before it, names a part of the body."""
    said = f"{sentence.before.text if sentence.before else ''} {sentence.text}"
    return bool(words.any_of_table("marks").search(said))
