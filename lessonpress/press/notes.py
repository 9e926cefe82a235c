"""What a press says besides counts and problems: what only the author sees, and what is not there yet."""

from __future__ import annotations

from typing import NamedTuple

WITHOUT_URL = ("feed.xml and feed.json", "those of topics", "sitemap.xml", "addresses in diagrams")


class Notes(NamedTuple):
    """drafts: paths of the pages of drafts. held: lessons' files held back, each with its day.

    left_out: what needs a `url` in site.yaml and is not there without one.
    """

    drafts: tuple[str, ...] = ()
    held: tuple[tuple[str, str], ...] = ()
    left_out: tuple[str, ...] = ()
