"""A problem is printed with its place, its line and a caret under the right letter."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from lessonpress.records.problem import (
    MARGIN,
    MOST,
    MOST_OF_A_KIND,
    WIDEST,
    Location,
    Problem,
    Problems,
    problem_text,
)


def test_a_problem_is_printed_with_line_caret_and_near_names() -> None:
    location = Location("clips/dune/clip.yaml", 2, 7, "view: faceon")
    problem = Problem(
        location, "`view` cannot be `faceon`", "it is face-on", nearest=("face-on", "from-target")
    )
    assert problem_text(problem) == (
        "clips/dune/clip.yaml:2:7: `view` cannot be `faceon`; it is face-on\n"
        "    view: faceon\n"
        "          ^\n"
        "    near: face-on, from-target"
    )


def test_a_warning_says_so_and_a_problem_of_a_whole_file_shows_no_line() -> None:
    problem = Problem(Location("lessons/a.md"), "this is odd", severity="warning")
    assert problem_text(problem) == "lessons/a.md:1:1: warning: this is odd"


def test_tabs_stay_tabs_before_the_caret() -> None:
    assert problem_text(Problem(Location("a", 1, 3, "\ta b"), "x")).split("\n")[2] == "    \t ^"


def test_wide_letters_take_two_columns_and_combining_marks_none() -> None:
    assert problem_text(Problem(Location("a", 1, 3, "揮桿x"), "x")).split("\n")[2] == MARGIN + "    ^"
    assert problem_text(Problem(Location("a", 1, 3, "e\u0301x"), "x")).split("\n")[2] == MARGIN + " ^"


def test_what_one_slip_brings_about_is_listed_once_with_its_other_lines() -> None:
    problems = Problems()
    for line, tell_of in ((9, problems.error), (4, problems.warn), (12, problems.error)):
        tell_of(Location("a", line), f"told at {line}", "correct it", cause="the slip")
    problems.error(Location("b", 9), "of another file", cause="the slip")
    problems.error(Location("a", 5), "another")
    assert [problem_text(problem) for problem in problems.listed()] == [
        "a:5:1: another",
        "a:9:1: told at 9 (also lines 4 and 12); correct it",
        "b:9:1: of another file",
    ]
    assert len(problems.in_order()) == 5


def test_a_collector_keeps_the_line_of_the_place_and_gives_each_problem_once_in_order() -> None:
    problems = Problems()
    late, early = Location("a", 9, 1, "late"), Location("a", 2, 1, "early")
    problems.error(late, "x")
    problems.warn(early, "y")
    problems.error(late, "x")
    assert [problem.source_line for problem in problems.in_order()] == ["early", "late"]
    assert len(problems.errors) == 2
    assert len(problems.warnings) == 1


@given(st.text(st.characters(blacklist_characters="\n"), max_size=400), st.integers(1, 500))
def test_any_line_is_shown_in_a_window_that_holds_its_caret(line: str, column: int) -> None:
    told = problem_text(Problem(Location("a", 1, column, line), "x")).split("\n")
    if len(told) > 1:
        assert len(told[1]) <= len(MARGIN) + WIDEST + 2


@pytest.mark.parametrize("column", [1, 2, 60, 61, 200, 339, 340, 400])
def test_the_caret_is_under_its_letter_wherever_a_long_line_is_cut(column: int) -> None:
    line = "·" * (column - 1) + "X" + "·" * (400 - column)
    _, shown, caret = problem_text(Problem(Location("a", 1, column, line), "x")).split("\n")
    assert len(shown) < 400
    assert caret.index("^") == shown.index("X")


def rows(count: int, path: str = "tracks.csv") -> Problems:
    """Faulty rows of one kind, each with another text in it."""
    problems = Problems()
    for line in range(1, count + 1):
        problems.error(Location(path, line, 1, f"{line},x"), f"`{line},x` is not a number of px")
    return problems


def test_many_of_a_kind_in_a_file_are_cut_short_and_counted() -> None:
    problems = rows(12_365)
    problems.error(Location("tracks.csv", 2, 1), "the mark is missing")
    problems.error(Location("lessons/a.md", 9, 1), "`7,x` is not a number of px")
    listed = problems.listed()
    assert len(listed) == MOST_OF_A_KIND + 2
    assert problem_text(listed[-1]).endswith("\n    and 12,345 more of this kind")
    assert [one.more for one in listed[:-1]] == [0] * (MOST_OF_A_KIND + 1)


def test_as_many_as_are_listed_are_printed_in_whole() -> None:
    assert rows(MOST_OF_A_KIND).listed() == rows(MOST_OF_A_KIND).in_order()


def test_a_list_of_many_kinds_has_an_end_and_errors_come_before_warnings() -> None:
    problems = Problems()
    for number in range(MOST):
        problems.warn(Location(f"lessons/{number}.md"), "odd")
    problems.error(Location("site.yaml"), "wrong")
    listed = problems.listed()
    assert len(listed) == MOST + 1
    assert [one.wrong for one in listed if one.severity == "error"] == ["wrong", "the list ends here"]
    assert listed[-1].more == 1


def test_a_message_repeats_the_ends_of_what_was_written_and_no_more() -> None:
    told = problem_text(
        Problem(Location("a.md", 1, 1, "x" * 9000), f"`begin{'x' * 9000}end` is not a date", "y" * 9000)
    )
    assert "`begin" in told and "end` is not a date" in told
    assert len(told) < 1500
