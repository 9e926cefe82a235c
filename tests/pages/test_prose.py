"""The cases of forms.md: a line of prose, the HTML that it becomes, and its plain text."""

from __future__ import annotations

from pathlib import Path

import pytest

from lessonpress.pages.markdown import Writing, plain, render
from lessonpress.pages.prose import ProseContext
from tests.documents import Case, Holds, cases_of
from tests.pages import factory

MEASURES = {
    one.id: one
    for one in (
        factory.BACK,
        factory.TILT,
        factory.refused(),
        factory.measure("lead", expect="8..14 in toward", answer="at its edge"),
        factory.measure("rise", expect="-1..1 in", answer="outside"),
        factory.measure("lead-arm", dimension="clock", value=45.0, uncertainty=1.0, unit="deg", way=""),
        factory.measure("tempo", dimension="ratio", value=3.02, uncertainty=0.38, unit=None, way=""),
        factory.measure(
            "lean.difference", dimension="angle", value=-3.1, uncertainty=2.4, unit="deg", way=""
        ),
    )
}
PRINTING = ProseContext(MEASURES, {"top": factory.strip_plate()}, "in")


@pytest.mark.parametrize("case", cases_of(Path(__file__).with_name("forms.md")), ids=str)
def test_a_form_prints_as_its_case_says(case: Case, holds: Holds) -> None:
    written, html, text = case.blocks
    holds(html, str(render(written.text, Writing(PRINTING))).strip())
    holds(text, plain(written.text, PRINTING))


def test_a_number_on_another_page_leads_to_the_lesson() -> None:
    printing = ProseContext(MEASURES, {}, "in", page="lessons/pelvis/index.html")
    made = render("{navel-back:bare}", Writing(printing))
    assert 'href="lessons/pelvis/index.html#m-navel-back"' in made


def test_a_site_in_centimetres_prints_centimetres_without_being_asked() -> None:
    """4.02 in × 2.54 cm/in = 10.2108 cm (international inch, exact)."""
    assert plain("{navel-back:value}", ProseContext(MEASURES, {}, "cm")) == "10.2 cm"


def test_a_number_is_there_for_every_reader_only_where_the_page_says_so() -> None:
    """A feed or a letter has no styles that would hide one of the two."""
    alone, every = (
        str(render("{navel-back:value}", Writing(ProseContext(MEASURES, {}, "in", every=every))))
        for every in (False, True)
    )
    assert "cm" not in alone and '<span class="cm">10.2 <span class="unit">cm</span></span>' in every
