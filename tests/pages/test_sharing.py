"""What a page gives to those who share it: a card for its address, and with a plate what to say of it."""

from __future__ import annotations

from tests.pages import factory
from tests.pages.sites import XHTML, page_of, pages_of, parse, with_class, words_of

ADDRESS = "https://saltmarsh.example/notebook/"


def card(html: str) -> dict[str, str]:
    """Source: the Open Graph protocol (ogp.me), basic and optional metadata."""
    metas = parse(html).iter(f"{XHTML}meta")
    return {one.get("property"): one.get("content") for one in metas if one.get("property")}


def test_a_lesson_s_address_is_shared_with_a_drawn_plate() -> None:
    pages = pages_of(factory.bound(factory.whole_lesson()))
    said = card(pages["lessons/pelvis/index.html"])
    assert {"og:title", "og:type", "og:image", "og:url", "og:description", "og:image:alt"} <= set(said)
    assert (said["og:type"], said["og:url"]) == ("article", f"{ADDRESS}lessons/pelvis/")
    assert said["og:image"].startswith(f"{ADDRESS}lessons/pelvis/")
    assert said["og:image"].endswith(".png")
    assert card(pages["index.html"])["og:image"] == said["og:image"]
    assert card(pages["archive/index.html"])["og:type"] == "website"


def test_what_is_not_listed_or_has_no_address_has_no_card() -> None:
    unlisted = pages_of(factory.bound(factory.whole_lesson(listed=False)))
    nowhere = pages_of(factory.bound(factory.whole_lesson(), url=None))
    for pages in (unlisted, nowhere):
        assert card(pages["lessons/pelvis/index.html"]) == {}


def test_a_plate_comes_with_its_files_its_words_its_source_and_its_licence() -> None:
    page = page_of(factory.whole_lesson())
    use = with_class(page, "use")[0]
    said = words_of(use)
    (first, *_) = factory.whole_lesson().plates
    assert {one.get("href") for one in use.iter(f"{XHTML}a")} == {
        "setup.svg",
        "setup.png",
        "setup.square.png",
    }
    assert first.panels[0].alt in said
    assert f"“The pelvis travels, the hub stays”, Plate I. {first.panels[0].credit.text}." in said
    assert f"{ADDRESS}lessons/pelvis/#plate-setup" in said
    assert (first.panels[0].credit.licence or "ask") in said


def test_the_address_of_a_lesson_that_is_not_listed_is_not_given_on() -> None:
    use = with_class(page_of(factory.whole_lesson(listed=False)), "use")[0]
    assert ADDRESS not in words_of(use)
    assert {one.get("href") for one in use.iter(f"{XHTML}a")} == {"setup.svg", "setup.png"}
