"""An alt text that says nothing, says too much, or says what everybody hears anyhow.

A picture without one is passed over by a screen reader; the design of the program asks for fewer than 200
characters; "picture of" is said before it in any case (common practice).
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from lessonpress.manuscript import Scalar, pictures_in
from lessonpress.preflight.finding import Finding, Severity
from lessonpress.preflight.rule import LooksAt
from lessonpress.preflight.subjects import LessonSubject, WrittenSubject
from lessonpress.records import Location

NAME = "alt-text"
SEVERITY: Severity = "warning"
LOOKS_AT: LooksAt = "written"

LONGEST = 199  # characters
_FILE = re.compile(r"\S+\.(?:png|jpe?g|webp|gif|svg|avif|heic)", re.IGNORECASE)


def find(subject: WrittenSubject) -> Iterator[Finding]:
    for alt, location in pictures_in(subject.text):
        yield from _of_picture(alt, location, subject)
    if isinstance(subject, LessonSubject):
        for block in subject.lesson.blocks:
            written = block.node.get("alt") if block.node else None
            if isinstance(written, Scalar) and written.written:
                yield from _of_words(written.written, written.location, subject)


def _of_picture(alt: str, location: Location, subject: WrittenSubject) -> Iterator[Finding]:
    if alt.strip():
        yield from _of_words(alt, location, subject)
    else:
        wrong = "this picture has no alt text, so it is not there for those who cannot see it"
        yield Finding(NAME, SEVERITY, location, wrong, "say in the brackets what it shows", location.source)


def _of_words(alt: str, location: Location, subject: WrittenSubject) -> Iterator[Finding]:
    text = " ".join(alt.split())
    if len(text) > LONGEST:
        wrong = f"this alt text has {len(text)} characters, which are read out in one breath"
        right = f"up to {LONGEST}: what the picture is for; the description below a plate has the rest"
        yield Finding(NAME, SEVERITY, location, wrong, right, text)
    elif _FILE.fullmatch(text) or _is_idle(text, subject):
        wrong = f"`{text}` does not say what the picture shows"
        yield Finding(NAME, SEVERITY, location, wrong, "say what it is for", text)


def _is_idle(text: str, subject: WrittenSubject) -> bool:
    return subject.words is not None and bool(subject.words.any_of("idle").fullmatch(text.rstrip(".")))
