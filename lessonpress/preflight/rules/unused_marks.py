"""Marks of the author's own naming that no figure, no set of overlays and no card asks for.

Those of a body are no mistake: pictures are cropped round them, and tags keep clear of them.
"""

from __future__ import annotations

from collections.abc import Iterator

from lessonpress.preflight.finding import Finding, Severity
from lessonpress.preflight.rule import LooksAt
from lessonpress.preflight.subjects import ClipSubject
from lessonpress.records import KNOWN_MARKS

NAME = "unused-marks"
SEVERITY: Severity = "note"
LOOKS_AT: LooksAt = "clip"

_MOST_NAMED = 6


def find(subject: ClipSubject) -> Iterator[Finding]:
    placed = {one.mark: one.frame for one in reversed(subject.clip.hand_placed)}
    unused = sorted(placed.keys() - subject.marks - set(KNOWN_MARKS))
    if not unused or not subject.lessons:
        return
    more = f" and {len(unused) - _MOST_NAMED} more" if len(unused) > _MOST_NAMED else ""
    wrong = f"no figure asks for {', '.join(f'`{name}`' for name in unused[:_MOST_NAMED])}{more}"
    right = "is it a name misspelt? use them, or take them out: they widen the crop of the clip's pictures"
    location = min(subject.clip.location_of_mark(name, placed[name]) for name in unused)
    yield Finding(NAME, SEVERITY, location, wrong, right, " ".join(unused))
