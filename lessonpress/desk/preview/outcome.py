"""What a press of the proof came to, and how that is reported."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from typing import Any

from lessonpress.desk.http.responses import problems_json
from lessonpress.records import Problem


@dataclass(frozen=True)
class Outcome:
    """What a press came to. pressed: the lessons pressed anew. pending: those that are still to be.

    pages: by lesson, its page's address, which changes with the page.
    """

    state: str
    number: int
    pressed_at: str | None = None
    seconds: float = 0.0
    pressed: tuple[str, ...] = ()
    problems: tuple[Problem, ...] = ()
    pages: Mapping[str, str] = field(default_factory=dict)
    pending: tuple[str, ...] = ()
    summary: str | None = None

    def json(self) -> dict[str, Any]:
        return {
            "state": self.state,
            "number": self.number,
            "pressed_at": self.pressed_at,
            "seconds": round(self.seconds, 2),
            "pressed": list(self.pressed),
            "pending": list(self.pending),
            "summary": self.summary,
            "problems": problems_json(self.problems),
            "pages": dict(self.pages),
        }


def summary_of(
    anew: tuple[str, ...], names: tuple[str, ...], pending: tuple[str, ...], problems: Iterable[Problem]
) -> str:
    severities = [one.severity for one in problems]
    counts = [f"{severities.count(word)} {word}s" for word in ("error", "warning") if word in severities]
    waiting = [f"{len(pending)} still to come"] if pending else []
    return ", ".join([f"{len(anew)} of {len({*names, *pending})} lessons pressed", *waiting, *counts])
