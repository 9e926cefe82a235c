"""A range written out under `expect`: the ledger prints it, and nothing says where it comes from.

A range that site.yaml names has a source there.
"""

from __future__ import annotations

from collections.abc import Iterator

from lessonpress.manuscript import Mapping, Node, Scalar, Sequence
from lessonpress.preflight.finding import Finding, Severity
from lessonpress.preflight.rule import LooksAt
from lessonpress.preflight.subjects import LessonSubject

NAME = "expected-range"
SEVERITY: Severity = "warning"
LOOKS_AT: LooksAt = "lesson"


def find(subject: LessonSubject) -> Iterator[Finding]:
    for block in subject.lesson.blocks:
        for expect in _expected(block.node):
            if expect.written not in subject.ranges:
                wrong = f"`{expect.written}` is printed as what is expected, and nothing says by whom"
                right = "name it under `ranges` in site.yaml with its `source`, and write the name here"
                said = f"{expect.written} {expect.location.source}"
                yield Finding(NAME, SEVERITY, expect.location, wrong, right, said)


def _expected(node: Node | None) -> Iterator[Scalar]:
    if isinstance(node, Sequence):
        for item in node.items:
            yield from _expected(item)
    elif isinstance(node, Mapping):
        for key, value in node.entries:
            if key.written == "expect" and isinstance(value, Scalar) and value.written:
                yield value
            elif not isinstance(value, Scalar):
                yield from _expected(value)
