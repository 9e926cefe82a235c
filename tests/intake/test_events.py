"""Events are proposed by the names that the site uses, and where its other clips put them."""

from __future__ import annotations

from pathlib import Path

import pytest

from lessonpress.footage import Found, Moment
from lessonpress.intake import OtherClip, clips_that_name, moment_of, named_events, own_names, usual_events
from lessonpress.manuscript import Site, read_site

CARD = "video: {name}.mp4\nview: face-on\nhand: right\nsource: {{kind: own}}\npeople: []\n{events}"
SECONDS = [frame / 60 for frame in range(200)]
FOUND = Found(
    {"setup": Moment(10, 1), "top": Moment(60, 3), "impact": Moment(80, 1), "finish": Moment(120, 2)}
)


@pytest.fixture
def root(tmp_path: Path) -> Path:
    (tmp_path / "site.yaml").write_text("title: Notes\n")
    return tmp_path


def site_with(root: Path, *cards: str, file: str = "") -> Site:
    """Clips one, two, three and so on, whose cards have these events."""
    (root / "site.yaml").write_text(f"title: Notes\n{file}")
    for name, events in zip(("one", "two", "three", "four"), cards, strict=False):
        folder = root / "clips" / name
        folder.mkdir(parents=True)
        (folder / f"{name}.mp4").write_bytes(b"film")
        said = f"events: {events}\n" if events else ""
        (folder / "clip.yaml").write_text(CARD.format(name=name, events=said))
    site, _ = read_site(root)
    assert site is not None
    return site


def test_a_site_without_events_has_those_that_all_know(root: Path) -> None:
    assert usual_events(site_with(root, "")) == ("setup", "top", "impact", "finish")


def test_usual_is_what_half_of_the_other_cards_name(root: Path) -> None:
    site = site_with(root, "{setup: 1, top: 2}", "{setup: 1, release: 3}", "{setup: 1, halfway: 2}", "")
    assert usual_events(site, "four") == ("setup",)
    assert usual_events(site, "three") == ("setup", "top", "release")


def test_names_that_the_site_explains_mean_moments(root: Path) -> None:
    site = site_with(root, "{p1: 1, p4: 2}", file="events: {p1: setup, p4: top}\n")
    named = ["setup", "top", "top", None]
    assert [moment_of(site, name) for name in ("p1", "p4", "top", "release")] == named
    assert list(named_events(FOUND, SECONDS, site, "new", []).moments) == ["p1", "p4"]


def test_a_name_of_its_own_lies_where_other_clips_have_it(root: Path) -> None:
    """Two thirds of the way from top to impact in one, half in the other."""
    site = site_with(
        root, "{setup: 0, top: 30, release: 50, impact: 60}", "{top: 30, release: 45, impact: 60}"
    )
    assert own_names(site, usual_events(site)) == ("release",)
    assert [clip.name for clip in clips_that_name(site, ("release",), "one")] == ["two"]
    others = [
        OtherClip({"setup": 0, "top": 30, "release": 50, "impact": 60}, SECONDS),
        OtherClip({"top": 30, "release": 45, "impact": 60}, SECONDS),
    ]
    release = named_events(FOUND, SECONDS, site, "new", others).moments["release"]
    assert release.frame == 60 + round(20 * (2 / 3 + 1 / 2) / 2)
    assert release.within >= 20 * (2 / 3 - 1 / 2)


def test_the_last_three_clips_that_name_it_are_asked(root: Path) -> None:
    site = site_with(root, *["{top: 30, release: 50}"] * 4)
    assert [clip.name for clip in clips_that_name(site, ("release",), "new")] == ["one", "three", "two"]


def test_where_its_neighbours_were_not_found_nothing_is_proposed_for_it(root: Path) -> None:
    site = site_with(root, "{top: 30, release: 50, impact: 60}")
    others = [OtherClip({"top": 30, "release": 50, "impact": 60}, SECONDS)]
    found = Found({"setup": Moment(10, 1)}, "why")
    assert named_events(found, SECONDS, site, "new", others) == Found({}, "why")


def test_an_explained_name_that_is_no_moment_is_a_mistake_at_its_line(root: Path) -> None:
    (root / "site.yaml").write_text("title: Notes\nevents: {p4: topp}\n")
    _, problems = read_site(root)
    (wrong,) = problems.errors
    assert wrong.location.line == 2
    assert "setup" in wrong.right
