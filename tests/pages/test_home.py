from __future__ import annotations

import pytest

from lessonpress.pages.home import chosen_panels
from tests.pages import factory
from tests.pages.sites import SITES, XHTML, pages_of, parse, weekly


def test_the_latest_lesson_is_shown_by_its_strip() -> None:
    plates = factory.whole_lesson().plates
    assert [panel.event for panel in chosen_panels(plates)] == ["setup", "top", "impact"]


def test_without_a_strip_its_plates_are_shown_in_the_order_of_the_swing() -> None:
    plates = [factory.last_plate(), factory.opening_plate()]
    assert [panel.event for panel in chosen_panels(plates)] == ["setup", "impact"]


def test_a_picture_on_several_plates_is_shown_once_as_last_drawn() -> None:
    again = factory.plate("again", "II", 30, [factory.panel("setup", [])])
    [panel] = chosen_panels([factory.opening_plate(), again])
    assert panel.drawn == ()


def test_home_shows_eight_earlier_lessons_and_leads_to_the_rest() -> None:
    page = parse(pages_of(factory.bound(*weekly(12)))["index.html"])
    assert len([item for item in page.iter(f"{XHTML}li") if "entry" in (item.get("class") or "")]) == 8
    links = {"".join(link.itertext()): link.get("href") for link in page.iter(f"{XHTML}a")}
    assert links["All 11 earlier lessons"] == "archive/index.html"


@pytest.mark.parametrize("author", ["Saltmarsh Studio", None])
def test_home_is_described(author: str | None) -> None:
    page = parse(pages_of(factory.bound(author=author))["index.html"])
    [said] = [meta.get("content") for meta in page.iter(f"{XHTML}meta") if meta.get("name") == "description"]
    assert said is not None
    assert said.startswith(f"Swing lessons by {author}." if author else "Swing lessons. ")


def test_home_counts_what_the_latest_lesson_holds() -> None:
    html = pages_of(SITES["a whole lesson among others"])["index.html"]
    assert "Three plates, three measures, one drill" in html


def test_a_site_without_lessons_says_so() -> None:
    assert "No lesson has been published yet." in pages_of(factory.bound())["index.html"]
