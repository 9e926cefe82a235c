"""What is reported of each mistake is what the documents of mistakes/ say, word for word."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import pytest

from lessonpress.manuscript import read_site
from lessonpress.records.problem import problem_text
from tests.documents import Case, Holds, cases_in
from tests.manuscript.documents import FOLDER, SOUND, files_of, lay_out, told_of

TODAY = date(2026, 11, 25)
CASES = cases_in(FOLDER)


@pytest.mark.parametrize("case", CASES, ids=str)
def test_a_mistake_is_reported_as_its_document_says(case: Case, tmp_path: Path, holds: Holds) -> None:
    lay_out(files_of(case), tmp_path)
    _, problems = read_site(tmp_path, today=TODAY)
    holds(told_of(case), "\n".join(problem_text(problem) for problem in problems.in_order()))


def test_each_document_has_a_title_of_its_own() -> None:
    assert len({case.title for case in CASES}) == len(CASES)


def test_the_sound_site_that_documents_start_from_has_no_mistake(tmp_path: Path) -> None:
    lay_out(SOUND, tmp_path)
    site, problems = read_site(tmp_path, today=TODAY)
    assert problems.collected == []
    assert site is not None
    assert [lesson.name for lesson in site.lessons] == ["hips"]
