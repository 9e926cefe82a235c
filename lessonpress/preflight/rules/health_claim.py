"""A claim about health without a source: "this protects your back", "a swing without pain".

An instructor teaches a swing and neither diagnoses nor treats. The word lists are those of `health` in
`words/`.
"""

from __future__ import annotations

from collections.abc import Iterator

from lessonpress.preflight.finding import Finding, Severity
from lessonpress.preflight.rule import LooksAt
from lessonpress.preflight.subjects import WrittenSubject

NAME = "health-claim"
SEVERITY: Severity = "severe"
LOOKS_AT: LooksAt = "written"


def find(subject: WrittenSubject) -> Iterator[Finding]:
    words = subject.words
    if words is None:
        return
    for sentence in subject.sentences:
        if sentence.run.kind == "quote" or sentence.asks or sentence.sourced:
            continue
        claim = words.any_of("health").search(sentence.text)
        if claim is None:
            continue
        rest = f"{sentence.text[: claim.start()]} {sentence.text[claim.end() :]}"
        if words.any_of("no_claim").search(rest):
            continue
        wrong = f"`{' '.join(claim[0].split())}` is a claim about health without a source"
        right = "take it out, or link to what it rests on; a clinician says what is good for a body"
        yield Finding(NAME, SEVERITY, sentence.at(claim.start()), wrong, right, sentence.said)
