"""A difference or a shift that its ± swallows, called a change.

"The pelvis has gone {week.difference:size} farther", where that prints 0.4 in ± 0.9. A sentence that says
itself that it may be none is right, and so is one whose next sentence says so.
"""

from __future__ import annotations

from collections.abc import Iterator

from lessonpress.figures import text_of
from lessonpress.preflight.finding import Finding, Severity
from lessonpress.preflight.reading.about import printed_in
from lessonpress.preflight.rule import LooksAt
from lessonpress.preflight.subjects import LessonSubject
from lessonpress.records import Measure, Reading

NAME = "swallowed"
SEVERITY: Severity = "severe"
LOOKS_AT: LooksAt = "lesson"

_DIFFERENCE = ".difference"  # how the names of differences end
_NUMBERS = ("", "size", "value", "bare", "cm", "in")  # the forms that print the number


def find(subject: LessonSubject) -> Iterator[Finding]:
    words = subject.words
    if words is None:
        return
    changes, doubts = words.any_of("changes"), words.any_of("doubts")
    for sentence in subject.sentences:
        if sentence.asks or doubts.search(f"{sentence.text} {subject.after(sentence)}"):
            continue
        for start, _, form, measure in printed_in(sentence, subject):
            # a shift is itself a number: only what is said in its own clause makes it a change
            is_number = measure.kind == "shift" and not measure.id.endswith(_DIFFERENCE)
            said = sentence.clause(start) if is_number else sentence.text
            if form in _NUMBERS and is_swallowed(measure) and changes.search(said):
                size = text_of(measure, "size", Reading(subject.units))
                wrong = f"this speaks of a change, and {size} may be none"
                right = "say that it is smaller than its ±"
                yield Finding(NAME, SEVERITY, sentence.at(start), wrong, right, sentence.said)


def is_swallowed(measure: Measure) -> bool:
    """Whether a shift or a difference may be zero within its ±."""
    if measure.value is None or measure.uncertainty is None:
        return False
    of_change = measure.kind in ("shift", "difference") or measure.id.endswith(_DIFFERENCE)
    low, high = measure.low, measure.high
    inside = low is not None and high is not None and low <= 0 <= high
    return of_change and (inside or abs(measure.value) <= measure.uncertainty)
