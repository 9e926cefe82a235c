"""A lesson whose page and pictures weigh more than a phone at the range should have to load.

Counted are the page and every picture and loop that it names. The limit is the program's own: no published
source.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from posixpath import dirname, join, normpath
from urllib.parse import unquote

from lessonpress.preflight.finding import Finding, Severity
from lessonpress.preflight.rule import LooksAt
from lessonpress.preflight.subjects import PressedSubject
from lessonpress.records import Location

NAME = "page-weight"
SEVERITY: Severity = "note"
LOOKS_AT: LooksAt = "pressed"

HEAVIEST = 8_000_000  # bytes
_NAMED = re.compile(r'\s(?:src|poster)="([^"]*)"')


def find(subject: PressedSubject) -> Iterator[Finding]:
    for page, html in subject.pages.items():
        if page not in subject.sources:
            continue
        named = {normpath(join(dirname(page), unquote(src))) for src in _NAMED.findall(html)}
        parts = {path: subject.sizes[path] for path in (page, *named) if path in subject.sizes}
        weight = sum(parts.values())
        if weight > HEAVIEST:
            heaviest = max(parts, key=lambda path: parts[path])
            wrong = f"this page weighs {weight / 1e6:.1f} MB with its pictures"
            right = f"the heaviest part is {heaviest}, {parts[heaviest] / 1e6:.1f} MB; make it two lessons"
            yield Finding(NAME, SEVERITY, Location(subject.sources[page][0]), wrong, right, page)
