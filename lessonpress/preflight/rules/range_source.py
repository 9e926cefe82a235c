"""A range or a number said to be usual or right, without where it comes from.

"The lean should be 25 to 35 degrees": by whom? "Common practice", an opinion owned as one, a link, a
footnote or a named source beside it answers that.
"""

from __future__ import annotations

from collections.abc import Iterator

from lessonpress.preflight.finding import Finding, Severity
from lessonpress.preflight.reading.quantities import quantities_in
from lessonpress.preflight.reading.sentences import Sentence
from lessonpress.preflight.reading.wordlist import WordList
from lessonpress.preflight.rule import LooksAt
from lessonpress.preflight.subjects import WrittenSubject

NAME = "range-source"
SEVERITY: Severity = "warning"
LOOKS_AT: LooksAt = "written"

_OF_A_BODY = ("length", "angle", "speed", "percent", "clock")


def find(subject: WrittenSubject) -> Iterator[Finding]:
    words = subject.words
    if words is None:
        return
    for sentence in subject.sentences:
        if sentence.run.kind in ("quote", "drill", "caution", "label", "title") or sentence.asks:
            continue
        if is_sourced(sentence, subject, words):
            continue
        for said in quantities_in(sentence.text, words):
            clause = sentence.clause(said.start)
            if not words.any_of("norms").search(sentence.text) or words.any_of("things").search(clause):
                continue
            if said.is_range or words.any_of("norms").search(clause):
                wrong = f"`{said.written}` is said to be usual or right, and nothing says by whom"
                right = "name the source, or say that it is common practice or your opinion"
                yield Finding(NAME, SEVERITY, sentence.at(said.start), wrong, right, sentence.said)
                break


def is_sourced(sentence: Sentence, subject: WrittenSubject, words: WordList) -> bool:
    """Whether a sentence, or the one after it, says where what it claims comes from."""
    near = f"{sentence.text} {subject.after(sentence)}"
    before = sentence.before.text if sentence.before else ""
    return sentence.sourced or bool(words.any_of("sources").search(f"{before} {near}"))
