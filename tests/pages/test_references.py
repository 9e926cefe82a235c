from __future__ import annotations

from lessonpress.figures.plates import BoundLesson
from lessonpress.pages.links import Linker
from lessonpress.pages.references import href_from, pages_by_source
from tests.pages import factory
from tests.pages.sites import pages_of

SITE = factory.site((factory.lesson("hub"), factory.lesson("pelvis")), [factory.page("about", "About", "")])
HREF = href_from("lessons/pelvis.md", Linker("lessons/pelvis/index.html"), pages_by_source(SITE))


def test_a_link_to_a_lessons_file_leads_to_its_page() -> None:
    assert HREF("hub.md") == "../hub/index.html"
    assert HREF("../pages/about.md") == "../../pages/about/index.html"


def test_a_fragment_is_kept() -> None:
    assert HREF("hub.md#plate-top") == "../hub/index.html#plate-top"


def test_other_links_are_left_as_they_were_written() -> None:
    for href in ("https://example.org/hub.md", "nowhere.md", "#ledger", "hub.txt", "mailto:hub@example.org"):
        assert HREF(href) == href


def test_a_link_in_an_example_leads_to_the_page_as_in_the_lesson_itself() -> None:
    text = "````example\nSee [the hub](hub.md#ledger).\n````\n"
    blocks = (factory.block("example", 10, "See [the hub](hub.md#ledger)."),)
    pelvis = BoundLesson(factory.lesson("pelvis", text, blocks), (), {})
    pages = pages_of(factory.bound(pelvis, factory.bare_lesson("hub")))
    assert '<a href="../hub/index.html#ledger">the hub</a>' in pages["lessons/pelvis/index.html"]
