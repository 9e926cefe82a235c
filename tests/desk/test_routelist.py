"""The list of routes in DEVELOPERS.md is the code's own."""

from __future__ import annotations

from pathlib import Path

from lessonpress.desk.http.routelist import listed
from lessonpress.desk.http.routes import ROUTES

DEVELOPERS = Path(__file__).parents[2] / "DEVELOPERS.md"


def test_developers_md_lists_the_routes_and_what_they_take() -> None:
    """Mend it by `python -m lessonpress.desk.http.routelist`."""
    text = DEVELOPERS.read_text(encoding="utf-8")
    assert text.partition("<!-- routes -->\n")[2].partition("<!-- /routes -->")[0] == listed()


def test_every_route_says_what_it_does() -> None:
    assert [row.path for row in ROUTES if not row.does.endswith(".")] == []
