"""Keeps what files were read as, so that an unchanged file is not read again."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field
from typing import Any, TypeVar, cast

from lessonpress.manuscript.text.passage import Passage
from lessonpress.records import Problem, Problems

T = TypeVar("T")


@dataclass(frozen=True)
class _Made:
    made_from: tuple[object, ...]
    thing: Any
    problems: tuple[Problem, ...]


@dataclass
class Memory:
    """One for a site that is read again and again. What it gives is shared: everything read is frozen."""

    _kept: dict[str, _Made] = field(default_factory=dict)

    def read(self, passage: Passage, reader: Callable[[Passage, Problems], T], problems: Problems) -> T:
        """What `reader` makes of a whole file; it looks at nothing else, and each path has one reader."""
        return self.keep(passage.path, (passage.text,), lambda reported: reader(passage, reported), problems)

    def keep(
        self, name: str, made_from: tuple[object, ...], make: Callable[[Problems], T], problems: Problems
    ) -> T:
        """What `make` makes and reports, made anew only where `made_from` is another than last time."""
        kept = self._kept.get(name)
        if kept is None or kept.made_from != made_from:
            reported = Problems()
            thing = make(reported)
            kept = self._kept[name] = _Made(made_from, thing, tuple(reported.collected))
        problems.extend(kept.problems)
        return cast(T, kept.thing)
