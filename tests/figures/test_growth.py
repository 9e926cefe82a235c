"""Binding and printing a lesson takes work that grows with its figures, overlays and measures."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest

from tests.figures.drawn import lesson_of
from tests.growth import MOST_TIMES, calls
from tests.pages.sites import page_of

FEW, MANY = 8, 32
FRAME = "```frame\nid: f{0}\nat: top\ndraw:\n  - shift: navel\n    as: back{0}\n```\n\n"

SENTENCE = "The navel went {{back0:size}}, sentence {}.\n"

CASES: dict[str, Callable[[int], str]] = {
    "figures": lambda n: "".join(FRAME.format(number) for number in range(n)),
    "measures": lambda n: (
        "```frame\nid: f\nat: top\ndraw:\n"
        + "".join(f"  - {{shift: navel, as: back{number}, show: false}}\n" for number in range(n))
        + "```\n"
    ),
    "numbers in prose": lambda n: FRAME.format(0) + "".join(SENTENCE.format(number) for number in range(n)),
}


@pytest.mark.parametrize("name", CASES)
def test_work_grows_with_what_is_written(tmp_path: Path, name: str) -> None:
    written = CASES[name]
    page_of(lesson_of(tmp_path / "once", written(2)))  # what is made once
    few, many = (
        calls(lambda n=n: page_of(lesson_of(tmp_path / str(n), written(n))))  # type: ignore[misc]
        for n in (FEW, MANY)
    )
    assert many < MOST_TIMES * few
