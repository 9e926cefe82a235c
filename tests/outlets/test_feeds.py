"""Feeds say what the site says, in the forms that readers of feeds expect."""

from __future__ import annotations

import json
from collections.abc import Callable
from dataclasses import replace
from time import struct_time

import feedparser

from lessonpress.manuscript.site.site import Site
from lessonpress.outlets.feeds import FeedEntry, feed_files, feed_of
from lessonpress.pages.links import ATOM_FEED
from lessonpress.pages.links import JSON_FEED as JSON

SiteAt = Callable[[str], Site]
ADDRESS = "https://example.org/notes/"
CONTENT = '<p>Words &amp; <a href="https://example.org/notes/lessons/first/">more</a>.</p>\n'


def _made(site: Site) -> dict[str, bytes]:
    shown = [FeedEntry(one, CONTENT) for one in reversed(site.lessons) if one.listed]
    return dict(feed_files(site, feed_of(site), shown))


def test_atom_is_read_back_whole_by_an_independent_parser(wordy_site: SiteAt) -> None:
    """RFC 4287, read with feedparser: feed and entries with id, title, updated, author, absolute links."""
    read = feedparser.parse(_made(wordy_site(ADDRESS))[ATOM_FEED])
    assert not read.bozo
    assert read.version == "atom10"
    assert read.feed.title == "Strandläufer & Söhne"
    assert read.feed.author == "佐藤"
    assert read.feed.updated == "2026-11-20T00:00:00Z"
    links = {link.rel: link.href for link in read.feed.links}
    assert links == {"self": ADDRESS + ATOM_FEED, "alternate": ADDRESS}
    second, first = read.entries
    assert (second.title, first.title) == ("Knee & toe", "Hüfte < Nabel")
    assert second.id == second.link == ADDRESS + "lessons/second/"
    assert isinstance(second.updated_parsed, struct_time)
    assert second.updated_parsed[:3] == (2026, 11, 20)
    assert second.published_parsed[:3] == (2026, 11, 16)
    assert second.author == "Guest"
    assert [tag.term for tag in first.tags] == ["Hüfte", "pelvis"]
    assert first.summary == "In short."
    assert [(one.type, one.value) for one in first.content] == [("text/html", CONTENT.strip())]


def test_json_feed_has_what_version_1_1_asks_for(wordy_site: SiteAt) -> None:
    """JSON Feed 1.1, jsonfeed.org: version, title, items; each item an id, and content_html or _text."""
    feed = json.loads(_made(wordy_site(ADDRESS))[JSON])
    assert feed["version"] == "https://jsonfeed.org/version/1.1"
    assert feed["title"] == "Strandläufer & Söhne"
    assert feed["home_page_url"] == ADDRESS
    assert feed["feed_url"] == ADDRESS + JSON
    assert feed["language"] == "de"
    assert [item["id"] for item in feed["items"]] == [
        ADDRESS + "lessons/second/",
        ADDRESS + "lessons/first/",
    ]
    assert [item["content_html"] for item in feed["items"]] == [CONTENT, CONTENT]
    assert feed["items"][0]["date_modified"] == "2026-11-20T00:00:00Z"
    assert feed["items"][0]["authors"] == [{"name": "Guest"}]


def test_a_feed_is_its_authors_or_the_sites_where_none_is_named(wordy_site: SiteAt) -> None:
    """RFC 4287, section 4.1.1: a feed whose entries do not all name an author must name one."""
    site = wordy_site(ADDRESS)
    for author, named in ((site.author, "佐藤"), (None, "Strandläufer & Söhne")):
        made = _made(replace(site, file=site.file.model_copy(update={"author": author})))
        assert json.loads(made[JSON])["authors"] == [{"name": named}]
        assert feedparser.parse(made[ATOM_FEED]).feed.author == named


def test_an_address_without_its_last_slash_gives_the_same_links(wordy_site: SiteAt) -> None:
    feed = _made(wordy_site(ADDRESS.rstrip("/")))[ATOM_FEED]
    assert feedparser.parse(feed).entries[0].id.startswith(ADDRESS)


def test_an_entry_keeps_its_id_when_its_lesson_is_renamed(wordy_site: SiteAt) -> None:
    """RFC 4287, section 4.2.6: an id must not change, whatever becomes of the entry."""
    site = wordy_site(ADDRESS)
    before = feedparser.parse(_made(site)[ATOM_FEED]).entries[0].id
    second = site.lesson("second")
    assert second is not None
    front = second.front.model_copy(update={"former": ("lessons/second", "lessons/third")})
    renamed = replace(second, name="fourth", front=front)
    made = dict(feed_files(site, feed_of(site), [FeedEntry(renamed, CONTENT)]))
    (entry,) = feedparser.parse(made[ATOM_FEED]).entries
    assert entry.id == json.loads(made[JSON])["items"][0]["id"] == before
    assert entry.link == ADDRESS + "lessons/fourth/"
