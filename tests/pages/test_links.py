from __future__ import annotations

from lessonpress.pages.links import TOPICS_PAGE, Linker, diagram_path, lesson_path


def test_links_are_relative_and_name_the_index() -> None:
    link = Linker("lessons/pelvis/index.html")
    assert link("index.html") == "../../index.html"
    assert link(lesson_path("hub")) == "../hub/index.html"
    assert Linker("index.html")(TOPICS_PAGE) == "topics/index.html"


def test_a_link_within_the_page_is_a_fragment_alone() -> None:
    assert Linker("lessons/pelvis/index.html")("lessons/pelvis/index.html", "ledger") == "#ledger"


def test_names_in_other_scripts_are_percent_encoded_after_rfc_3986() -> None:
    """RFC 3986, 2.5: characters outside ASCII go as UTF-8 octets; é is C3 A9."""
    assert Linker("index.html")(lesson_path("été")) == "lessons/%C3%A9t%C3%A9/index.html"


def test_a_page_served_from_anywhere_links_by_the_address_of_the_site() -> None:
    link = Linker("404.html", base="https://saltmarsh.example/notebook/")
    assert link("index.html") == "https://saltmarsh.example/notebook/index.html"


def test_diagrams_of_several_panels_are_numbered() -> None:
    assert diagram_path("pelvis", "top", 0, 1, "svg") == "lessons/pelvis/top.svg"
    assert diagram_path("pelvis", "top", 2, 3, "png") == "lessons/pelvis/top-3.png"
