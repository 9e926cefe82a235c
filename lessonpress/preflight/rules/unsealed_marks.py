"""Marks of a video that the card does not seal: were it replaced, nothing would notice that they are stale.

With a `fingerprint` on the card another video in the same place is an error.
"""

from __future__ import annotations

from collections.abc import Iterator

from lessonpress.preflight.finding import Finding, Severity
from lessonpress.preflight.rule import LooksAt
from lessonpress.preflight.subjects import ClipSubject

NAME = "unsealed-marks"
SEVERITY: Severity = "note"
LOOKS_AT: LooksAt = "clip"


def find(subject: ClipSubject) -> Iterator[Finding]:
    card = subject.clip.card
    if card is None or card.fingerprint or not subject.lessons or not subject.clip.hand_placed:
        return
    wrong = "were this video replaced, nothing would notice that the marks are another's"
    right = f"write `fingerprint: {subject.fingerprint}`" if subject.fingerprint else "add its `fingerprint`"
    yield Finding(NAME, SEVERITY, card.location_of("video"), wrong, right, card.video)
