"""The number that front matter names for lists is looked up as one in the text is."""

from __future__ import annotations

from pathlib import Path

from tests.figures.drawn import FRONT, told_of

FIGURE = "```frame\nid: top\nat: top\ndraw:\n  - shift: navel\n    as: navel-back\n```\n"


def test_a_number_that_no_figure_gives_is_reported_where_it_is_named(tmp_path: Path) -> None:
    front = FRONT.replace("clip: dune\n", "clip: dune\nmeasure: navel-bak\n")
    told = told_of(tmp_path, FIGURE, front=front)
    assert told.splitlines()[0] == "lessons/lesson.md:5:10: there is no measure `navel-bak`"
    assert told.splitlines()[-1].strip() == "near: navel-back"
