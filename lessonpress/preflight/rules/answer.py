"""An answer in words that the ledger contradicts: "outside what is taught" of a number that is inside."""

from __future__ import annotations

from collections.abc import Iterator
from re import Match

from lessonpress.preflight.finding import Finding, Severity
from lessonpress.preflight.reading.about import printed_in, spoken_of
from lessonpress.preflight.reading.sentences import Sentence
from lessonpress.preflight.reading.wordlist import WordList
from lessonpress.preflight.rule import LooksAt
from lessonpress.preflight.subjects import LessonSubject
from lessonpress.records import Measure

NAME = "answer"
SEVERITY: Severity = "severe"
LOOKS_AT: LooksAt = "lesson"


def find(subject: LessonSubject) -> Iterator[Finding]:
    words = subject.words
    if words is None:
        return
    for sentence in subject.sentences:
        if sentence.run.kind in ("quote", "drill", "caution") or sentence.asks:
            continue
        measures = _answered(sentence, subject, words)
        said = _said(sentence, words)
        if said is None or not measures or any(_fits(said[0], one.answer) for one in measures):
            continue
        match, one = said[1], measures[0]
        wrong = f"`{match[0]}` is said of `{one.id}`, which is {one.answer} {one.expect}"
        right = f"print the answer, `{{{one.id}:answer}}`"
        yield Finding(NAME, SEVERITY, sentence.at(match.start()), wrong, right, sentence.said)


def _answered(sentence: Sentence, subject: LessonSubject, words: WordList) -> list[Measure]:
    """The measures with a range that the sentence prints, or else speaks of."""
    printed = [measure for _, _, _, measure in printed_in(sentence, subject)]
    spoken = printed or spoken_of(sentence, subject, words)
    return [one for one in spoken if one.answer is not None]


def _said(sentence: Sentence, words: WordList) -> tuple[str, Match[str]] | None:
    """The answer that the words give, and where; None where they give none, or both."""
    found = []
    for word in ("inside", "outside"):
        for match in words.any_of(word).finditer(sentence.text):
            first = max(0, match.start() - words.near("turned_before"))
            last = match.end() + words.near("turned_after")
            before = words.any_of("turns_round").search(sentence.text[first : match.start()])
            after = words.any_of("turns_round_after").search(sentence.text[match.end() : last])
            if not before and not after:
                found.append((word, match))
    return found[0] if len({word for word, _ in found}) == 1 else None


def _fits(word: str, answer: str | None) -> bool:
    """At the edge of a range either word may be said."""
    return answer == word or answer == "at its edge"
