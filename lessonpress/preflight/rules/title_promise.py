"""A title or a summary that promises what no plate shows: a part of the body, a number of pictures."""

from __future__ import annotations

import re
from collections.abc import Iterator
from itertools import islice

from lessonpress.preflight.finding import Finding, Severity
from lessonpress.preflight.reading.sentences import Sentence
from lessonpress.preflight.reading.wordlist import WordList
from lessonpress.preflight.rule import LooksAt
from lessonpress.preflight.subjects import LessonSubject

NAME = "title-promise"
SEVERITY: Severity = "warning"
LOOKS_AT: LooksAt = "lesson"

_MOST = 20  # sentences of a title and a summary


def find(subject: LessonSubject) -> Iterator[Finding]:
    words, bound = subject.words, subject.bound
    if words is None or not bound.plates:
        return
    shown = _shown(subject)
    heads = (one for one in subject.sentences if one.run.kind in ("title", "summary"))
    for sentence in islice(heads, _MOST):
        yield from _promised(sentence, shown, words)
        yield from _counted(sentence, subject, words)


def _shown(subject: LessonSubject) -> str:
    """All that plates and the ledger say of what they show."""
    said = [measure.words for measure in subject.bound.measures.values()]
    for plate in subject.bound.plates:
        said += [plate.caption, plate.alt, plate.drawing.name if plate.drawing else ""]
        said += [f"{one.name} {one.sentence}" for panel in plate.panels for one in panel.drawn]
        said += [key.words for key in plate.keys]
    said += [" ".join(measure.marks) for measure in subject.bound.measures.values()]
    said += list(subject.bound.measures)
    return " ".join(said).replace("-", " ")


def _promised(sentence: Sentence, shown: str, words: WordList) -> Iterator[Finding]:
    text = words.any_of("no_promise").sub(lambda said: " " * len(said[0]), sentence.text)
    for promise, shows in words.lists["promises"].items():
        said = re.search(rf"(?<![\w-])(?:{promise})(?![\w-])", text, re.IGNORECASE)
        if said and not re.search(shows, shown, re.IGNORECASE):
            wrong = f"the {sentence.run.kind} promises `{said[0]}`, which no plate shows"
            right = "show it, or take it out"
            yield Finding(
                NAME, SEVERITY, sentence.at(said.start()), wrong, right, f"{said[0]} {sentence.said}"
            )


def _counted(sentence: Sentence, subject: LessonSubject, words: WordList) -> Iterator[Finding]:
    """A number of pictures, plates or swings that is not the number there are."""
    plates = subject.bound.plates
    panels = [panel for plate in plates for panel in plate.panels]
    there = {
        "pictures": {len(panels), len({(panel.clip, panel.frame) for panel in panels})}
        | {len(plate.panels) for plate in plates},
        "plates": {len(plates)},
        "clips": {len({panel.clip for panel in panels})}
        | {len(plate.chart.points) for plate in plates if plate.chart},
    }
    for counted, what in words.lists["counted"].items():
        for said in re.finditer(
            rf"\b({'|'.join(words.number_words)}|\d+)\s+({counted})\b(?!\s+{words.lists['either']}\b)",
            sentence.text,
            re.I,
        ):
            if re.search(rf"\b{words.lists['either']}\s+$", sentence.text[: said.start()], re.I):
                continue
            number = words.number_words.get(said[1].lower()) or (int(said[1]) if said[1].isdigit() else 0)
            if number > 1 and there[what] and number not in there[what]:
                counts = " or ".join(str(count) for count in sorted(there[what]))
                wrong = f"the {sentence.run.kind} promises `{said[0]}`, and there are {counts}"
                at = sentence.at(said.start())
                yield Finding(NAME, SEVERITY, at, wrong, "count again", f"{said[0]} {sentence.said}")
