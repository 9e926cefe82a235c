"""What is reported of each mistake is what the documents of mistakes/ say, word for word."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import pytest

from lessonpress.manuscript import read_site
from lessonpress.records.problem import problem_text
from tests.manuscript.documents import SOUND, Document, documents

TODAY = date(2026, 11, 25)
DOCUMENTS = documents()


@pytest.mark.parametrize("document", DOCUMENTS, ids=lambda document: document.path.stem)
def test_a_mistake_is_told_as_its_document_says(document: Document, tmp_path: Path) -> None:
    document.lay_out(tmp_path)
    _, problems = read_site(tmp_path, today=TODAY)
    told = "\n".join(problem_text(problem) for problem in problems.in_order())
    assert told == document.told, f"{document.path}:{document.line}: {document.title}"


def test_there_are_documents_and_each_has_a_title_of_its_own() -> None:
    assert len(DOCUMENTS) >= 40
    assert len({document.title for document in DOCUMENTS}) == len(DOCUMENTS)


def test_the_sound_site_that_documents_start_from_has_no_mistake(tmp_path: Path) -> None:
    Document(Path(), "", dict(SOUND)).lay_out(tmp_path)
    site, problems = read_site(tmp_path, today=TODAY)
    assert problems.collected == []
    assert site is not None
    assert [lesson.name for lesson in site.lessons] == ["hips"]
