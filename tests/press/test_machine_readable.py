"""A pressed site for machines: feeds in whole, the map with its pictures, all measures as data."""

from __future__ import annotations

import csv
import json
import re
from pathlib import Path
from urllib.parse import unquote
from xml.etree import ElementTree

import feedparser
import html5lib
import pytest

from lessonpress.outlets.measures import FIELDS
from lessonpress.press.progress import Silent
from lessonpress.press.run import press

ADDRESS = "https://example.org/notes/"
LESSON = """\
---
title: {name}
date: 2026-01-0{day}
topics: [{topic}]
{more}
---

Words[^1], see [the other](other.md), [a paper](../papers/a.pdf), [above](#read) and [elsewhere](https://example.com/x).

```drill
## Feet together

Ten slow swings.
```

[^1]: A note.
"""


@pytest.fixture(scope="module")
def wordy(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A site of words, pressed; for reading only."""
    root = tmp_path_factory.mktemp("wordy") / "notebook"
    (root / "lessons").mkdir(parents=True)
    (root / "papers").mkdir()
    (root / "papers" / "a.pdf").write_bytes(b"%PDF-")
    (root / "site.yaml").write_text(f"title: Notebook\nurl: {ADDRESS}\n", encoding="utf-8")
    for name, day, topic, more in (
        ("one", 1, "hub", ""),
        ("other", 2, "pelvis", "summary: In short."),
        ("hidden", 3, "hub", "listed: false"),
    ):
        text = LESSON.format(name=name, day=day, topic=topic, more=more)
        (root / "lessons" / f"{name}.md").write_text(text, encoding="utf-8")
    done = press(root, root / "build" / "site", Silent())
    assert done.problems.collected == []
    return root / "build" / "site"


@pytest.mark.parametrize(
    ("path", "title", "home", "names"),
    [
        ("feed", "Notebook", "", ["other", "one"]),
        ("topics/hub/feed", "Notebook: hub", "topics/hub/", ["one"]),
    ],
)
def test_feeds_have_what_their_specifications_ask_for(
    wordy: Path, path: str, title: str, home: str, names: list[str]
) -> None:
    """RFC 4287, 4.1.1 and 4.1.2: id, title, updated, author, link rel=self; entries id, title, updated and,
    without content, link rel=alternate. JSON Feed 1.1: version, title, items; items id, content_html."""
    read = feedparser.parse((wordy / f"{path}.xml").read_bytes())
    assert not read.bozo
    assert (read.feed.id, read.feed.title, read.feed.author) == (ADDRESS + home, title, "Notebook")
    assert read.feed.updated == f"2026-01-0{2 if 'other' in names else 1}T00:00:00Z"
    assert {link.rel: link.href for link in read.feed.links}["self"] == f"{ADDRESS}{path}.xml"
    ids = [f"{ADDRESS}lessons/{name}/" for name in names]
    assert [(one.id, one.link) for one in read.entries] == [(each, each) for each in ids]
    assert all(one.title and one.updated and one.content[0].type == "text/html" for one in read.entries)
    feed = json.loads((wordy / f"{path}.json").read_bytes())
    assert (feed["version"], feed["title"]) == ("https://jsonfeed.org/version/1.1", title)
    assert (feed["home_page_url"], feed["feed_url"]) == (ADDRESS + home, f"{ADDRESS}{path}.json")
    assert [item["id"] for item in feed["items"]] == ids
    assert all("Ten slow swings." in item["content_html"] for item in feed["items"])
    page = (wordy / "topics" / "hub" / "index.html").read_text(encoding="utf-8")
    assert 'title="Notebook: hub" href="feed.xml"' in page


def addresses(html: str) -> list[str]:
    """Every address in a piece of HTML, read by a strict parser."""
    read = html5lib.HTMLParser(strict=True).parseFragment(html)
    return [value for one in read.iter() for name in ("href", "src") if (value := one.get(name)) is not None]


def test_the_whole_lesson_is_in_a_feed_with_absolute_addresses(wordy: Path) -> None:
    items = json.loads((wordy / "feed.json").read_bytes())["items"]
    html = items[1]["content_html"]
    page = f"{ADDRESS}lessons/one/"
    assert addresses(html)[:5] == [
        f"{page}#fn1",
        f"{ADDRESS}lessons/other/",
        f"{ADDRESS}files/papers/a.pdf",
        f"{page}#read",
        "https://example.com/x",
    ]
    assert all(one.startswith("https://") for one in addresses(html))
    headings = re.findall(r"<h2[^>]*>(\w+)</h2>", html)
    assert headings[:2] == ["Caution", "Drill"]  # what can go wrong is read before it is tried


def test_a_lesson_says_what_it_is_in_the_words_of_schema_org(pressed_site: Path) -> None:
    """HTML Standard, section 5 (microdata): schema.org/Article with headline, datePublished and image."""
    address = json.loads((pressed_site / "feed.json").read_bytes())["home_page_url"]
    read = html5lib.HTMLParser(strict=True).parse((pressed_site / "lessons/pelvis/index.html").read_bytes())
    article = next(one for one in read.iter() if one.get("itemtype") == "https://schema.org/Article")
    said: dict[str, list[str]] = {}
    for one in article.iter():
        value = one.get("content") or one.get("href") or one.get("datetime") or one.text or ""
        said.setdefault(one.get("itemprop", ""), []).append(value)
    item = next(
        one
        for one in json.loads((pressed_site / "feed.json").read_bytes())["items"]
        if one["url"] == f"{address}lessons/pelvis/"
    )
    assert said["headline"] == [item["title"]]
    assert said["datePublished"] == [item["date_published"][:10]]
    assert said["mainEntityOfPage"] == [item["url"]]
    assert said["image"] == [one for one in addresses(item["content_html"]) if one.endswith(".png")]


def test_pictures_of_a_feed_and_of_the_map_are_there(drawn_site: Path, pressed_site: Path) -> None:
    """The drawn site's plates, by the files that its press put out."""
    feed = json.loads((pressed_site / "feed.json").read_bytes())
    address = feed["home_page_url"]
    contents = [item["content_html"] for item in feed["items"]]
    assert any(" ± " in html or "± " in html for html in contents)
    assert not any('class="unit">cm<' in html for html in contents)  # a site in inches, each number once
    shown = [one for item in feed["items"] for one in addresses(item["content_html"]) if one.endswith(".png")]
    assert shown
    names = {"image": "http://www.google.com/schemas/sitemap-image/1.1"}
    mapped = ElementTree.fromstring((pressed_site / "sitemap.xml").read_bytes())
    pictured = [one.text or "" for one in mapped.iterfind(".//image:loc", names)]
    assert sorted(pictured) == sorted(shown)
    assert all((pressed_site / unquote(one.removeprefix(address))).is_file() for one in pictured)


def test_all_measures_of_a_site_are_those_of_its_lessons(pressed_site: Path) -> None:
    """Held against each lesson's own ledger; the fields against the schema that lies beside them."""
    lines = (pressed_site / "measures.jsonl").read_text(encoding="utf-8").splitlines()
    rows = [json.loads(line) for line in lines]
    every = {}
    for path in pressed_site.glob("lessons/*/measures.json"):
        read = json.loads(path.read_bytes())
        every |= {(read["lesson"], one["id"]): one for one in read["measures"]}
    assert rows
    for row in rows:
        own = every[row["lesson"], row["id"]]
        assert {name: row[name] for name in own} == own
    found = {(row["lesson"], row["id"]) for row in rows}
    listed = {lesson for lesson, _ in found}
    assert {key for key in every if key[0] in listed} == found
    schema = json.loads((pressed_site / "measures.schema.json").read_bytes())
    assert schema["required"] == list(schema["properties"]) == list(FIELDS)
    for row in rows:
        assert list(row) == schema["required"]
        for name, value in row.items():
            assert fits(value, schema["properties"][name]), (name, value)
    with (pressed_site / "measures.csv").open(encoding="utf-8", newline="") as file:
        table = list(csv.DictReader(file))
    assert [(row["lesson"], row["id"]) for row in table] == [(row["lesson"], row["id"]) for row in rows]
    assert [row["value"] for row in table] == [
        "" if row["value"] is None else str(row["value"]) for row in rows
    ]


def fits(value: object, kind: dict[str, object]) -> bool:
    """The part of JSON Schema 2020-12 that the schema uses: `type` (6.1.1) and `enum` (6.1.2)."""
    types = {"string": str, "number": (int, float), "integer": int, "array": list, "null": type(None)}
    named = kind["type"] if isinstance(kind["type"], list) else [kind["type"]]
    allowed = "enum" not in kind or value in kind["enum"]  # type: ignore[operator]
    return allowed and any(isinstance(value, types[one]) for one in named)  # type: ignore[arg-type]


def test_without_an_address_it_is_said_what_is_left_out(tmp_path: Path) -> None:
    (tmp_path / "site.yaml").write_text("title: Notebook\n", encoding="utf-8")
    done = press(tmp_path, tmp_path / "build" / "site", Silent())
    assert done.notes.left_out == (
        "feed.xml and feed.json",
        "those of topics",
        "sitemap.xml",
        "addresses in diagrams",
    )
    assert not list((tmp_path / "build" / "site").glob("feed.*"))
    assert not (tmp_path / "build" / "site" / "sitemap.xml").exists()
    again = press(tmp_path, tmp_path / "build" / "site", Silent())
    assert again.notes == done.notes
