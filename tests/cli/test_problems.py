"""Problems are reported all in one go, with paths that can be opened from where the author is."""

from __future__ import annotations

import io
from pathlib import Path

from lessonpress.cli.problems import print_problems, printed_problem
from lessonpress.records.problem import Location, Problem, Problems

ROOT = Path("notebook")


def test_a_path_is_printed_as_the_author_would_open_it() -> None:
    problem = Problem(Location("lessons/hub.md", 7, 12), "no mark is called navle")
    assert printed_problem(problem, ROOT) == "notebook/lessons/hub.md:7:12: no mark is called navle"
    assert printed_problem(problem, Path()) == "lessons/hub.md:7:12: no mark is called navle"


def test_a_file_cannot_steer_the_terminal() -> None:
    """Escape sequences: ECMA-48; direction overrides: Unicode Standard Annex 9."""
    text = printed_problem(Problem(Location("a.md"), "wrong", "", "\x1b[2J\x9b31m\u202egnp.exe"), ROOT)
    assert not set(text) & set("\x1b\x9b\u202e")
    assert "gnp.exe" in text


def test_all_are_reported_in_order_of_place_and_counted() -> None:
    problems = Problems()
    problems.warn(Location("b.md", 2, 1), "third")
    problems.error(Location("b.md", 1, 9), "second")
    problems.error(Location("a.md", 5, 1), "first")
    problems.error(Location("a.md", 5, 1), "first")
    written = io.StringIO()
    print_problems(problems, ROOT, written)
    said = [line.rsplit(": ", 1)[-1] for line in written.getvalue().splitlines()]
    assert said == ["first", "second", "third", "2 errors, 1 warning"]


def test_a_long_list_is_cut_short_and_its_count_is_of_all() -> None:
    problems = Problems()
    for line in range(30_000):
        problems.error(Location("clips/dune/tracks.csv", line + 1, 1, "x" * 500), f"`{line}` is not a frame")
    written = io.StringIO()
    print_problems(problems, ROOT, written)
    assert len(written.getvalue()) < 10_000
    assert written.getvalue().endswith("    and 29,980 more of this kind\n30000 errors\n")
