"""The one signature that all rules share; each is a module."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any, Literal, Protocol

from lessonpress.preflight.finding import Finding, Severity

# written: a lesson or a page, by its words alone. lesson: one bound to its clips. clip: its card and marks,
# and who uses them. still: the card of a picture. pressed: the pages as they come out.
LooksAt = Literal["written", "lesson", "clip", "still", "pressed"]


class Rule(Protocol):
    """A rule. The press runs those that are severe; `preflight` runs all."""

    @property
    def NAME(self) -> str:  # noqa: N802 - a module's constant
        """What its findings are called by."""

    @property
    def SEVERITY(self) -> Severity:  # noqa: N802
        """How bad it is that such a thing is published."""

    @property
    def LOOKS_AT(self) -> LooksAt:  # noqa: N802
        """Which kind of subject it is given."""

    def find(self, subject: Any) -> Iterator[Finding]:
        """What it finds in a subject."""
