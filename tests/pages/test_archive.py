"""The archive: the newest years on one page, under their months, and a page for each year before them."""

from __future__ import annotations

from datetime import date, timedelta

import pytest

from lessonpress.pages.archive import SQUARES, WHOLE, archive_page, archived_years
from lessonpress.pages.frame import PageContext
from tests.pages import factory
from tests.pages.rendering import rows_of, topic_page_of
from tests.pages.sites import THEME, XHTML, book_of, hrefs_of, ids_of, pages_of, parse, weekly, words_of


@pytest.mark.parametrize(
    ("counts", "whole", "older"),
    [
        ({}, (), {}),
        ({2026: 3, 2024: 5}, (2026, 2024), {}),
        ({2026: 10, 2025: WHOLE - 10, 2024: 1}, (2026, 2025), {2024: 1}),
        ({2026: WHOLE * 9, 2025: 1}, (2026,), {2025: 1}),  # a year is never cut
        ({2026: 1, 2025: WHOLE, 2024: 2}, (2026,), {2025: WHOLE, 2024: 2}),
    ],
)
def test_the_archive_shows_whole_years_as_long_as_there_is_room(
    counts: dict[int, int], whole: tuple[int, ...], older: dict[int, int]
) -> None:
    made = archived_years(date(year, 5, 1) for year, count in counts.items() for _ in range(count))
    assert (made.whole, made.older) == (whole, older)


def test_a_long_archive_leads_to_each_year_and_month_and_every_lesson_is_on_one_page() -> None:
    """Five years of a lesson a week: 261 lessons."""
    lessons = weekly(260)
    pages = {
        path: parse(html)
        for path, html in pages_of(factory.bound(*lessons)).items()
        if path.startswith("archive/")
    }
    first = pages["archive/index.html"]
    assert set(pages) == {"archive/index.html", "archive/2024/index.html", "archive/2025/index.html"}
    led = [href for page in pages.values() for href in hrefs_of(page) if "lessons/" in href]
    assert sorted(href.split("/")[-2] for href in led) == sorted(one.lesson.name for one in lessons)
    assert {"#2028", "#2028-12", "2024/index.html", "2025/index.html"} <= set(hrefs_of(first))
    assert {"2028", "2028-12"} <= set(ids_of(first))
    assert "260 lessons" in words_of(first)
    assert not [one for page in pages.values() for one in page.iter(f"{XHTML}img")]


def test_no_list_of_a_large_archive_is_more_than_a_telephone_can_have() -> None:
    """A lesson with a measure four times a week, 3,500 in sixteen years: 219 on the page of a year.

    Limits of our own, no published source: 150 kB of markup.
    """
    lessons = [
        factory.whole_lesson(
            f"day-{day}", number=day, topics=("hub",), date=date(2025, 1, 1) + timedelta(day)
        )
        for day in range(219, 0, -1)
    ]
    bound = factory.bound(*lessons)
    context = PageContext(bound, book_of(bound), THEME, THEME.words("en"))
    _, year = archive_page(rows_of(context, bound.lessons), {}, context)
    _, topic = topic_page_of(context.topics[0], context)
    assert max(len(year), len(topic)) < 150_000
    page = parse(topic.decode())
    assert len(list(page.iter(f"{XHTML}img"))) == SQUARES
    led = [href.split("/")[-2] for href in hrefs_of(page) if "lessons/" in href]
    assert led == [one.lesson.name for one in lessons]
    assert "Earlier plates" in words_of(page)
