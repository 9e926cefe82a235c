"""A direction typed beside a number that went the other way: "{navel-back:size} toward the target"."""

from __future__ import annotations

from collections.abc import Iterator

from lessonpress.preflight.finding import Finding, Severity
from lessonpress.preflight.reading.about import printed_in
from lessonpress.preflight.rule import LooksAt
from lessonpress.preflight.subjects import LessonSubject

NAME = "direction"
SEVERITY: Severity = "severe"
LOOKS_AT: LooksAt = "lesson"

_NEAR = 30  # characters after a number in which its direction is said
_WITHOUT_WAY = ("size", "value", "bare")
_OPPOSITE = {
    "toward the target": "away from the target",
    "away from the target": "toward the target",
    "toward the ball": "away from the ball",
    "away from the ball": "toward the ball",
    "up": "down",
    "down": "up",
}


def find(subject: LessonSubject) -> Iterator[Finding]:
    words = subject.words
    if words is None:
        return
    for sentence in subject.sentences:
        for _, end, form, measure in printed_in(sentence, subject):
            opposite = words.one_of("ways", _OPPOSITE.get(measure.way, ""))
            same = words.one_of("ways", measure.way)
            if opposite is None or same is None or form not in _WITHOUT_WAY:
                continue
            near = sentence.text[end : end + _NEAR].split("{")[0]
            said = opposite.search(near)
            if said and not same.search(near):
                wrong = f"`{said[0]}` is typed, and `{measure.id}` is {measure.way}"
                right = f"print its direction, `{{{measure.id}}}` or `{{{measure.id}:way}}`"
                at = sentence.at(end + said.start())
                yield Finding(NAME, SEVERITY, at, wrong, right, sentence.said)
