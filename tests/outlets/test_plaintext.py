"""A letter's plain text reads well by itself: the cases are in `plaintext.md`."""

from __future__ import annotations

from pathlib import Path

import pytest

from lessonpress.outlets.letters.plaintext import plain_text
from tests.documents import Case, Holds, cases_of

CASES = cases_of(Path(__file__).parent / "plaintext.md")


@pytest.mark.parametrize("case", CASES, ids=str)
def test_the_words_of_html_as_mail_has_them(case: Case, holds: Holds) -> None:
    (html,), (text,) = case.named("html"), case.named("text")
    holds(text, plain_text(html.text).removesuffix("\n"))


def test_no_line_is_longer_than_mail_would_have_it() -> None:
    """RFC 5322, 2.1.1: not over 78 characters, but for an address, which is not broken."""
    written = plain_text("<p>" + "Some more words of a lesson. " * 40 + "</p>")
    assert max(len(line) for line in written.splitlines()) <= 78
