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
        for start, end, form, measure in printed_in(sentence, subject):
            opposite = words.one_of("ways", _OPPOSITE.get(measure.way, ""))
            same = words.one_of("ways", measure.way)
            if opposite is None or same is None or form not in _WITHOUT_WAY:
                continue
            first, last = max(0, start - words.near("way_before")), end + words.near("way_after")
            cut = max(first, sentence.text.rfind("}", 0, start) + 1)
            near = [(cut, sentence.text[cut:start]), (end, sentence.text[end:last].split("{")[0])]
            said = [(at + way.start(), way[0]) for at, text in near for way in opposite.finditer(text)]
            if said and not any(same.search(text) for _, text in near):
                at, way = said[0]
                wrong = f"`{way}` is typed, and `{measure.id}` is {measure.way}"
                right = f"print its direction, `{{{measure.id}}}` or `{{{measure.id}:way}}`"
                yield Finding(NAME, SEVERITY, sentence.at(at), wrong, right, sentence.said)
