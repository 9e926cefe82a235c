"""A number typed by hand that contradicts a measure of the same lesson.

"By the top the navel has gone four inches", where the ledger says 5.2 in ± 0.6. In figures or in words, in
any unit of its kind; an angle, a clock time, a speed, a share. What is said of others, of what is usual, of
things that are no part of the body, in quotations, in drills and in cautions is no measure.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from itertools import combinations, islice
from math import hypot

from lessonpress.figures import text_of
from lessonpress.measure import SIZE_OF_UNIT
from lessonpress.preflight.finding import Finding, Severity
from lessonpress.preflight.reading.about import at_events, names, spoken_of
from lessonpress.preflight.reading.quantities import Quantity, quantities_in
from lessonpress.preflight.reading.sentences import Sentence
from lessonpress.preflight.reading.wordlist import WordList
from lessonpress.preflight.rule import LooksAt
from lessonpress.preflight.subjects import LessonSubject
from lessonpress.records import Measure, Reading

NAME = "typed-number"
SEVERITY: Severity = "severe"
LOOKS_AT: LooksAt = "lesson"

# what is looked at, far above what an author types: a text made to be slow is not
_MOST_HELD = 1000  # sentences with a number
_MOST_IN_ONE = 20  # numbers of a sentence
_MOST_COMPARED = 20  # measures of one sentence that are held against each other
NOT_READ = ("quote", "drill", "caution", "label")


def find(subject: LessonSubject) -> Iterator[Finding]:
    words = subject.words
    if words is None or not subject.measures:
        return
    for sentence in islice(_with_numbers(subject, words), _MOST_HELD):
        for typed in islice(quantities_in(sentence.text, words), _MOST_IN_ONE):
            if not typed.is_range and is_of_a_body(typed, sentence, words):
                yield from _held(typed, sentence, subject, words)


def _with_numbers(subject: LessonSubject, words: WordList) -> Iterator[Sentence]:
    for sentence in subject.sentences:
        read = sentence.run.kind not in NOT_READ and not sentence.asks
        if read and next(quantities_in(sentence.text, words), None) is not None:
            yield sentence


def is_of_a_body(typed: Quantity, sentence: Sentence, words: WordList) -> bool:
    """Whether a typed number is said of the swing that the lesson shows, as far as words can tell."""
    clause = sentence.clause(typed.start)
    if words.any_of("not_measured").search(clause) or _linked(typed, sentence):
        return False
    return not words.any_of("things").search(words.any_of("where").sub(" ", clause))


def _linked(typed: Quantity, sentence: Sentence) -> bool:
    at = sentence.start + typed.start
    return any(start <= at < end for start, end in sentence.run.sourced)


def _held(typed: Quantity, sentence: Sentence, subject: LessonSubject, words: WordList) -> Iterator[Finding]:
    spoken = spoken_of(sentence, subject, words)
    alike = [one for one in spoken if one.dimension == typed.dimension]
    there = at_events(sentence.clause(typed.start), alike, subject, words)
    there = at_events(sentence.text, there, subject, words) or there
    if not there or any(_agrees(typed, one) for one in there) or _is_between(typed, alike):
        return
    clause = sentence.clause(typed.start)
    measure = next((one for one in there if names(clause, one, words)), there[0])
    measured = text_of(measure, "size", Reading(subject.units))
    wrong = f"`{typed.written}` is typed, and `{measure.id}` is {measured}"
    right = f"print it, `{{{measure.id}:size}}`"
    yield Finding(NAME, SEVERITY, sentence.at(typed.start), wrong, right, f"{typed.written} {sentence.said}")


def _is_between(typed: Quantity, measures: list[Measure]) -> bool:
    """Whether the typed number is how far two measures of the same marks lie apart."""
    return any(
        one.marks == other.marks and _agrees(typed, _apart(one, other))
        for one, other in combinations(measures[:_MOST_COMPARED], 2)
    )


def _apart(one: Measure, other: Measure) -> Measure:
    values = (one.value or 0.0) - (other.value or 0.0)
    return replace(one, value=values, uncertainty=hypot(one.uncertainty or 0.0, other.uncertainty or 0.0))


def _agrees(typed: Quantity, measure: Measure) -> bool:
    """Whether the typed number lies inside the ±, or is the measure as coarsely as it is said."""
    assert measure.value is not None and measure.uncertainty is not None
    size = SIZE_OF_UNIT[measure.unit or ""]
    apart = abs(typed.low - abs(measure.value) * size)
    if typed.dimension == "clock":
        apart = min(apart, abs(720 - apart), abs(360 - apart))
    return apart <= max(measure.uncertainty * size, typed.step / 2) + 1e-9
