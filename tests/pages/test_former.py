"""An earlier path of a lesson leads on to where the lesson is now."""

from __future__ import annotations

from xml.etree.ElementTree import Element

import pytest

from tests.pages import factory
from tests.pages.sites import XHTML, pages_of, parse

LESSON = factory.whole_lesson("pelvis", former=("lessons/hips", "old/no-2.html"))


@pytest.mark.parametrize(
    ("path", "way"),
    [
        ("lessons/hips/index.html", "../pelvis/index.html"),
        ("old/no-2.html", "../lessons/pelvis/index.html"),
    ],
)
def test_an_earlier_path_leads_on_by_itself_and_by_a_link(path: str, way: str) -> None:
    page = parse(pages_of(factory.bound(LESSON))[path])
    refresh = _one(page, "meta", "http-equiv", "refresh")
    assert refresh.get("content") == f"0; url={way}"
    assert _one(page, "a", "href", way).text == LESSON.lesson.title


def test_search_engines_get_the_present_address() -> None:
    bound = factory.bound(LESSON)
    page = parse(pages_of(bound)["old/no-2.html"])
    now = f"{bound.site.url.rstrip('/')}/lessons/pelvis/"
    assert _one(page, "link", "rel", "canonical").get("href") == now


def _one(page: Element, tag: str, key: str, value: str) -> Element:
    (found,) = [element for element in page.iter(f"{XHTML}{tag}") if element.get(key) == value]
    return found
