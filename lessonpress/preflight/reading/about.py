"""Which measures of a lesson a sentence speaks of: those it prints, and those whose marks it names."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator

from lessonpress.preflight.reading.sentences import Sentence
from lessonpress.preflight.reading.wordlist import WordList
from lessonpress.preflight.subjects import LessonSubject
from lessonpress.records import Measure

_BACK = 4  # sentences that "it" may lead back, the one that says it among them


def printed_in(sentence: Sentence, subject: LessonSubject) -> Iterator[tuple[int, int, str, Measure]]:
    """The measures that a sentence prints: start and end in its text, form, measure."""
    for start, end, reference in sentence.references:
        measure = subject.measure_of(reference.id)
        if measure is not None:
            yield start, end, reference.form or "", measure


def spoken_of(sentence: Sentence, subject: LessonSubject, words: WordList) -> tuple[Measure, ...]:
    """The measures that a sentence speaks of; where it only says "it", those of the sentence before."""
    for _ in range(_BACK):
        found = _spoken_of(sentence, subject, words)
        if found or sentence.before is None or not words.any_of("back_to").search(sentence.text):
            return found
        sentence = sentence.before
    return ()


def _spoken_of(sentence: Sentence, subject: LessonSubject, words: WordList) -> tuple[Measure, ...]:
    printed = [measure for _, _, _, measure in printed_in(sentence, subject)]
    named = [one for alike in subject.alike if names(sentence.text, alike[0], words) for one in alike]
    return tuple({one.id: one for one in [*printed, *named]}.values())


def names(text: str, measure: Measure, words: WordList) -> bool:
    """Whether a text names what a measure is of: its marks, and of some kinds the kind."""
    kind = words.one_of("kinds", measure.kind)
    if kind is not None and not kind.search(text):
        return False
    if measure.kind == "balance":
        return True
    line = _line(measure.marks, words)
    if line is not None and line.search(text) and _sides_agree(text, measure.marks, words):
        return True
    if measure.kind == "angle" and words.any_of("limbs").search(text):
        return _sides_agree(text, measure.marks, words)
    named = [_names_mark(text, mark, words) for mark in measure.marks]
    return any(named) if kind is not None and measure.kind != "speed" else bool(named) and all(named)


def _line(marks: tuple[str, ...], words: WordList) -> re.Pattern[str] | None:
    return words.one_of("lines", " ".join(sorted(marks))) or words.one_of("lines", " ".join(marks))


def _names_mark(text: str, mark: str, words: WordList) -> bool:
    _side, _, part = mark.rpartition("-")
    pattern = words.one_of("marks", mark) or words.one_of("marks", part)
    if pattern is None:
        pattern = re.compile(rf"(?<!\w){re.escape(mark).replace('-', '[ -]')}(?!\w)", re.IGNORECASE)
    return bool(pattern.search(text)) and _sides_agree(text, (mark,), words)


def _sides_agree(text: str, marks: Iterable[str], words: WordList) -> bool:
    """Whether a text that names a side of the body names one of the marks'."""
    said = {side for side in words.lists["sides"] if words.one_of("sides", side).search(text)}  # type: ignore[union-attr]
    meant = {side for mark in marks for side in ("lead", "trail") if mark.startswith(f"{side}-")}
    return not said or not meant or bool(said & meant)


def at_events(
    text: str, measures: Iterable[Measure], subject: LessonSubject, words: WordList
) -> list[Measure]:
    """Those of the measures whose picture is at the event that a text names; all where it names none."""
    said = {event for event in words.lists["events"] if words.one_of("events", event).search(text)}  # type: ignore[union-attr]
    measures = list(measures)
    if not said:
        return measures
    frames = _frames_by_event(subject)
    wanted = {frame for event in said for frame in frames.get(event, ())}
    return [one for one in measures if one.frames and one.frames[-1] in wanted]


def _frames_by_event(subject: LessonSubject) -> dict[str, set[int]]:
    frames: dict[str, set[int]] = {}
    for plate in subject.bound.plates:
        for panel in plate.panels:
            frames.setdefault(panel.event, set()).add(panel.frame)
    for facts in subject.bound.clips:
        for event in facts.events:
            frames.setdefault(event.name, set()).update(event.frames)
    return frames
