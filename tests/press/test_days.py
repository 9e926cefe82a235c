"""A lesson is published on its day in the site's time zone, and not before."""

from __future__ import annotations

from datetime import UTC, date, datetime
from pathlib import Path

import pytest

from lessonpress.press.file_hashes import FileHashes
from lessonpress.press.progress import Silent
from lessonpress.press.run import Pressed, press
from lessonpress.press.steps.inputs import Inputs, PressOptions

NAMES = ("past", "future")
DAY = date(2999, 12, 24)
LESSON = "---\ntitle: The {name}\ndate: {day}\ntopics: [{name}]\nsummary: In short.\n---\n\nWords.{more}\n"


@pytest.fixture
def site(tmp_path: Path) -> Path:
    root = tmp_path / "notebook"
    (root / "lessons").mkdir(parents=True)
    (root / "site.yaml").write_text("title: Notebook\nurl: https://example.org\n", encoding="utf-8")
    write(root, "past", "2026-01-02")
    write(root, "future", DAY.isoformat())
    return root


def write(root: Path, name: str, day: str, more: str = "") -> None:
    text = LESSON.format(name=name, day=day, more=more)
    (root / "lessons" / f"{name}.md").write_text(text, encoding="utf-8")


def pressed(site: Path, *, drafts: bool = False, as_of: date | None = None) -> tuple[Pressed, Path]:
    out = site / "build" / "site"
    return press(site, out, Silent(), drafts=drafts, as_of=as_of), out


def naming(out: Path, words: str) -> list[str]:
    """The files of words that have these."""
    texts = [path for path in out.rglob("*") if path.suffix in (".html", ".xml", ".json", ".txt", ".csv")]
    return sorted(str(path.relative_to(out)) for path in texts if words in path.read_text(encoding="utf-8"))


def test_a_lesson_is_nowhere_before_its_day_and_everywhere_on_it(site: Path) -> None:
    for as_of in (None, date(2999, 12, 23)):
        done, out = pressed(site, as_of=as_of)
        assert done.problems.collected == []
        assert done.notes.held == (("lessons/future.md", "2999-12-24"),)
        assert naming(out, "uture") == []
        assert not (out / "lessons" / "future").exists()
    again, _ = pressed(site, as_of=date(2999, 12, 23))
    assert again.summary is not None
    assert not again.summary.anew
    assert again.notes == done.notes
    done, out = pressed(site, as_of=DAY)
    assert done.notes.held == ()
    listing = {"index.html", "archive/index.html", "feed.xml", "feed.json", "sitemap.xml"}
    assert listing <= set(naming(out, "lessons/future/"))
    assert "The future" in (out / "lessons" / "past" / "index.html").read_text(encoding="utf-8")
    assert "Held back" not in (out / "lessons" / "future" / "index.html").read_text(encoding="utf-8")


def test_among_drafts_it_is_marked_and_listed_nowhere(site: Path) -> None:
    done, out = pressed(site, drafts=True)
    assert done.notes.held == (("lessons/future.md", "2999-12-24"),)
    page = (out / "lessons" / "future" / "index.html").read_text(encoding="utf-8")
    assert ">Held back until 24 December 2999<" in page
    assert '<meta name="robots" content="noindex">' in page
    assert naming(out, "The future") == ["lessons/future/index.html"]


def test_a_link_to_it_is_an_error_until_its_day(site: Path) -> None:
    write(site, "past", "2026-01-02", " See [it](future.md).")
    done, _ = pressed(site)
    assert [one.wrong for one in done.problems.errors] == [
        "this links to `future.md`, which is held back until 2999-12-24"
    ]
    assert pressed(site, as_of=DAY)[0].problems.collected == []


def test_ids_in_feeds_stay_when_titles_and_days_change(site: Path) -> None:
    """RFC 4287, section 4.2.6; JSON Feed 1.1, `id`: an id never changes."""
    _, out = pressed(site)
    before = [(out / name).read_text(encoding="utf-8") for name in ("feed.xml", "feed.json")]
    text = (site / "lessons" / "past.md").read_text(encoding="utf-8")
    changed = text.replace("The past", "Another").replace("2026-01-02", "2026-01-03\nupdated: 2026-02-01")
    (site / "lessons" / "past.md").write_text(changed, encoding="utf-8")
    pressed(site)
    after = [(out / name).read_text(encoding="utf-8") for name in ("feed.xml", "feed.json")]
    for old, new, entry in zip(
        before,
        after,
        ("<id>https://example.org/lessons/past/</id>", '"id": "https://example.org/lessons/past/"'),
        strict=True,
    ):
        assert entry in old
        assert entry in new
        assert "Another" in new
        assert "2026-02-01T00:00:00Z" in new


@pytest.mark.parametrize(
    ("zone", "day"), [("UTC", 23), ("Pacific/Kiritimati", 24), ("Pacific/Pago_Pago", 23), ("Asia/Tokyo", 24)]
)
def test_a_day_begins_at_the_sites_midnight(tmp_path: Path, zone: str, day: int) -> None:
    """Offsets of the IANA time zone database: +14, −11 and +9 hours; the machine's own zone has no part."""
    options = PressOptions(now=datetime(2026, 12, 23, 15, 0, tzinfo=UTC))
    inputs = Inputs(tmp_path, options, FileHashes())
    assert inputs.value("day", f"{zone} today") == f"2026-12-{day}"
    assert inputs.value("day", f"{zone} reached 2026-12-24") == str(day == 24)


def test_a_time_zone_that_is_none_is_an_error_where_it_is_written(site: Path) -> None:
    (site / "site.yaml").write_text("title: Notebook\ntimezone: Europe/Berln\n", encoding="utf-8")
    done, _ = pressed(site)
    assert [(str(one.location), one.wrong) for one in done.problems.errors] == [
        ("site.yaml:2:11", "`Europe/Berln` is not a time zone")
    ]
    assert "`Europe/Berlin`" in done.problems.errors[0].right
