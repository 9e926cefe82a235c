"""What preflight finds in pages as they come out: dead links, heavy pages, colours that cannot be read."""

from __future__ import annotations

import pytest

from lessonpress.preflight import PressedSubject, look_at
from lessonpress.preflight.rules.contrast import contrast

PAGE = "lessons/hub/index.html"
SOURCE = "---\ntitle: Hub\n---\n\nSee [it](other.md#nowhere) and [me](https://example.com/me).\n"


def found(html: str, sizes: dict[str, int] | None = None, styles: dict[str, str] | None = None) -> list[str]:
    pages = {PAGE: html, "lessons/other/index.html": '<p id="there">'}
    all_sizes = {"pictures/a.webp": 10, **{path: len(page) for path, page in pages.items()}, **(sizes or {})}
    sources = {PAGE: ("lessons/hub.md", SOURCE)}
    subject = PressedSubject(pages, all_sizes, sources, styles or {}, "https://notebook.example/")
    return [f"{one.location} {one.rule}: {one.wrong}" for one in look_at(subject)]


@pytest.mark.parametrize(
    ("href", "told"),
    [
        ("../other/index.html#there", ""),
        ("../other/", ""),
        ("#read", ""),
        ("../../pictures/a.webp", ""),
        ("https://greens.marram/card?a=1&amp;b=2", ""),
        ("mailto:someone@greens.marram", ""),
        ("https://notebook.example/hub", ""),
        ("../other/index.html#nowhere", "5:19 dead-link: `#nowhere` is nowhere on the page"),
        ("../gone/index.html", "1:1 dead-link: `../gone/index.html` leads to no page"),
        ("https://example.com/me", "5:37 dead-link: `https://example.com/me` is a place-holder's address"),
        ("http://localhost:8000/", "1:1 dead-link: `http://localhost:8000/` is a place-holder's"),
        ("file:///home/me/a.pdf", "1:1 dead-link: `file:///home/me/a.pdf` leads to a file of this machine"),
    ],
)
def test_a_link_that_leads_nowhere_is_found_where_it_is_written(href: str, told: str) -> None:
    said = found(f'<main id="read"><a href="{href}">it</a></main>')
    assert len(said) == bool(told)
    assert not told or said[0].startswith(f"lessons/hub.md:{told}")


def test_a_page_is_weighed_with_what_it_names() -> None:
    html = '<img src="../../pictures/a.webp"><img src="../../pictures/a.webp"><video poster="b.webp">'
    assert found(html, {"pictures/a.webp": 7_900_000, "lessons/hub/b.webp": 90_000}) == []
    (told,) = found(html, {"pictures/a.webp": 7_900_000, "lessons/hub/b.webp": 110_000})
    assert told == "lessons/hub.md:1:1 page-weight: this page weighs 8.0 MB with its pictures"


def test_colours_of_an_own_theme_are_held_to_what_can_be_read() -> None:
    light = ":root {\n  --paper: #FFF; --ink: #777777;\n}\n"
    dark = "@media (prefers-color-scheme: dark) { :root { --paper: #000000; } }\n"
    told = found("", styles={"themes/own/styles/tokens.css": light + dark})
    assert told == [
        "themes/own/styles/tokens.css:2:18 contrast: --ink #777777 on --paper #FFF has a contrast of 4.48 : 1"
    ]


def test_contrast_is_that_of_wcag() -> None:
    """WCAG 2.2, "contrast ratio": 21 for black on white; #767676 on white 4.54, #777777 4.48 (recomputed)."""
    pairs = [("#000000", "#FFFFFF"), ("#FFF", "#767676"), ("#777777", "#FFFFFF")]
    assert [round(contrast(*pair), 2) for pair in pairs] == [21.0, 4.54, 4.48]
