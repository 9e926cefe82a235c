"""In the browser, overlays lie on the body points of the shown picture, and tags clear of each other.

The places compared with are not the drawing's own: marks come from marks.yaml, the crop from the bound plate,
and where the picture is shown from the browser.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass
from itertools import combinations
from typing import Any

import pytest
from playwright.sync_api import Browser, Page

from lessonpress.figures.plates import BoundLesson, Panel, Plate
from lessonpress.manuscript.clip.clip import Clip
from lessonpress.records import Point
from tests.browser.conftest import PressedSite

WIDTHS = (360, 768, 1440)
WITHIN = 1.0  # CSS px
# Kinds whose round signs are on marks of the picture itself, and those which also show an earlier place.
ON_MARKS_NOW = ("line", "angle", "tilt", "note", "vertical", "horizontal", "clock")
ROUND_SIGNS = ".dot, .hollow, .bead"

# Of each picture of a page: where it is shown, the round signs of the layout displayed, and its tags.
_SEEN = """signs => [...document.querySelectorAll(".pic:has(img)")].map(pic => {
    const shown = [...pic.querySelectorAll(".ov > svg")].find(svg => svg.getBoundingClientRect().width > 0);
    const box = element => {
        const r = element.getBoundingClientRect();
        return [r.left, r.top, r.right, r.bottom];
    };
    const centre = sign => {
        const m = sign.getScreenCTM();
        return [m.e, m.f];
    };
    const owner = sign => sign.parentElement.closest("[data-kind]");
    return {
        plate: pic.closest("figure")?.id ?? "",
        picture: box(pic.querySelector("img")),
        mirrored: pic.classList.contains("mirrored"),
        signs: [...shown.querySelectorAll(signs)].filter(owner).map(sign => ({
            kind: owner(sign).dataset.kind, letter: owner(sign).dataset.letter, centre: centre(sign),
        })),
        tag_letters: [...shown.querySelectorAll(".tag text:first-of-type")].map(
            text => parseFloat(getComputedStyle(text).fontSize) * Math.abs(text.getScreenCTM().d)),
        tags: [...shown.querySelectorAll(".tag")].map(tag => ({letter: tag.dataset.letter, box: box(tag)})),
        letters: [...shown.querySelectorAll("text, tspan")].filter(text => text.textContent.trim()).map(
            text => parseFloat(getComputedStyle(text).fontSize) * Math.abs(text.getScreenCTM().d)),
    };
})"""


@dataclass(frozen=True)
class _Shown:
    """One picture of a lesson page: the panel it was made from, and what the browser has of it."""

    panel: Panel
    clip: Clip
    seen: dict[str, Any]

    def on_screen(self, point: Point) -> Point:
        """Where a point of the picture is displayed, from the crop and the picture's own box."""
        left, top, right, bottom = self.seen["picture"]
        x0, y0, x1, y1 = self.panel.crop
        across = (point[0] - x0) / (x1 - x0)
        across = 1 - across if self.seen["mirrored"] else across
        return left + across * (right - left), top + (point[1] - y0) / (y1 - y0) * (bottom - top)

    def marks(self, frame: int | None) -> dict[str, Point]:
        """Marks and middles as marks.yaml and tracks.csv place them; on every frame where frame is None."""
        frames = {one.frame for one in self.clip.observations} if frame is None else {frame}
        room = self.clip.card.room if self.clip.card else ()
        found = {}
        for at in frames:
            placed = {
                one.mark: (one.x, one.y)
                for one in self.clip.observations
                if one.frame == at or one.mark in room
            }
            found.update({f"{name} {at}": point for name, point in placed.items()})
            for name, parts in (self.clip.card.middles if self.clip.card else {}).items():
                if all(part in placed for part in parts):
                    points = [placed[part] for part in parts]
                    middle = tuple(math.fsum(axis) / len(points) for axis in zip(*points, strict=True))
                    found[f"{name} {at}"] = (middle[0], middle[1])
        return found

    def nearest(self, place: Point, frame: int | None) -> float:
        """CSS px from a place on the screen to the nearest displayed mark."""
        return min(math.dist(place, self.on_screen(mark)) for mark in self.marks(frame).values())


@pytest.fixture(scope="module")
def page(chromium: Browser) -> Iterator[Page]:
    with chromium.new_page(reduced_motion="reduce") as page:
        yield page


_seen: dict[str, dict[int, list[dict[str, Any]]]] = {}  # a page is opened once and looked at in each width


def _look(page: Page, address: str) -> dict[int, list[dict[str, Any]]]:
    if address not in _seen:
        page.goto(address)
        page.evaluate("document.fonts.ready.then(() => 0)")
        _seen[address] = {}
        for width in WIDTHS:
            page.set_viewport_size({"width": width, "height": 900})
            _seen[address][width] = page.evaluate(_SEEN, ROUND_SIGNS)
    return _seen[address]


def _shown(page: Page, site: PressedSite, lesson: BoundLesson, width: int) -> Iterator[_Shown]:
    panels = {f"plate-{plate.id}": iter(plate.panels) for plate in lesson.plates}
    if not panels:
        return
    for seen in _look(page, f"{site.folder.as_uri()}/lessons/{lesson.lesson.folder}/index.html")[width]:
        if seen["plate"] in panels:
            panel = next(panels[seen["plate"]])
            yield _Shown(panel, site.bound.site.clips[panel.clip], seen)


@pytest.mark.parametrize("width", WIDTHS)
def test_signs_are_within_a_px_of_their_marks_on_the_shown_picture(
    page: Page, site: PressedSite, width: int
) -> None:
    checked = 0
    for lesson in site.bound.lessons:
        for shown in _shown(page, site, lesson, width):
            standing = {drawn.letter for drawn in shown.panel.drawn if drawn.standing}
            for sign in shown.seen["signs"]:
                if sign["kind"] not in ON_MARKS_NOW:
                    continue
                frame = None if sign["letter"] in standing else shown.panel.frame
                off = shown.nearest(tuple(sign["centre"]), frame)
                assert off <= WITHIN, (
                    f"{lesson.lesson.name} {shown.seen['plate']}: {sign} is {off:.2f} px off"
                )
                checked += 1
    assert checked > 10


@pytest.mark.parametrize("width", WIDTHS)
@pytest.mark.parametrize(
    "kind, marks",
    [
        ("line", ("trail-shoulder", "lead-shoulder")),
        ("tilt", ("navel", "c7")),
        ("angle", ("trail-elbow", "trail-wrist", "implement-head")),
    ],
)
def test_each_named_mark_carries_a_sign(
    page: Page, drawn: PressedSite, kind: str, marks: tuple[str, ...], width: int
) -> None:
    """The other way round: no mark that the lesson names is left without its sign."""
    lesson = next(lesson for lesson in drawn.bound.lessons if lesson.lesson.name == "kinds")
    (shown,) = [
        shown for shown in _shown(page, drawn, lesson, width) if shown.seen["plate"] == f"plate-the-{kind}"
    ]
    signs = [tuple(sign["centre"]) for sign in shown.seen["signs"]]
    for mark in marks:
        place = shown.on_screen(shown.marks(shown.panel.frame)[f"{mark} {shown.panel.frame}"])
        assert min(math.dist(place, sign) for sign in signs) <= WITHIN, mark


@pytest.mark.parametrize("width", WIDTHS)
def test_tags_overlap_nowhere_and_stay_inside_their_picture(
    page: Page, site: PressedSite, width: int
) -> None:
    checked = 0
    for lesson in site.bound.lessons:
        for shown in _shown(page, site, lesson, width):
            where = f"{lesson.lesson.name} {shown.seen['plate']}"
            left, top, right, bottom = shown.seen["picture"]
            for tag in shown.seen["tags"]:
                x0, y0, x1, y1 = tag["box"]
                inside = left <= x0 and top <= y0 and x1 <= right and y1 <= bottom
                assert inside, f"{where}: tag {tag['letter']} leaves the picture"
                checked += 1
            for one, other in combinations(shown.seen["tags"], 2):
                assert not _overlap(one["box"], other["box"]), (
                    f"{where}: {one['letter']} on {other['letter']}"
                )
    assert checked > 10


@pytest.mark.parametrize("width", WIDTHS)
def test_tags_are_of_one_size_at_every_width(page: Page, site: PressedSite, width: int) -> None:
    """Letters are 13.5 px high, 0.92 of that at least where a picture is narrower than laid out for."""
    sizes = [
        size
        for lesson in site.bound.lessons
        for shown in _shown(page, site, lesson, width)
        for size in shown.seen["tag_letters"]
    ]
    assert len(sizes) > 10
    assert max(sizes) <= 13.6
    assert min(sizes) >= 12.4


def _overlap(one: list[float], other: list[float]) -> bool:
    return one[0] < other[2] and other[0] < one[2] and one[1] < other[3] and other[1] < one[3]


def test_lettering_is_at_least_12_px_high_on_a_phone(page: Page, site: PressedSite) -> None:
    """Common practice for reading outdoors, no published source."""
    lettered = 0
    for lesson in site.bound.lessons:
        for shown in _shown(page, site, lesson, 360):
            lettered += len(shown.seen["letters"])
            small = [size for size in shown.seen["letters"] if size < 11.99]
            assert not small, f"{lesson.lesson.name} {shown.seen['plate']}: {min(small):.1f} px"
    assert lettered


def test_every_drawn_letter_has_its_tag_in_the_picture(page: Page, site: PressedSite) -> None:
    count = 0
    for lesson in site.bound.lessons:
        for shown in _shown(page, site, lesson, 360):
            drawn = {one.letter for one in shown.panel.drawn if one.shown and one.letter}
            count += len(drawn)
            assert {tag["letter"] for tag in shown.seen["tags"]} == drawn, shown.seen["plate"]
    assert count


def _plates(site: PressedSite) -> list[Plate]:
    return [plate for lesson in site.bound.lessons for plate in lesson.plates]


def test_the_demo_has_pictures_to_check(demo: PressedSite) -> None:
    assert sum(len(plate.panels) for plate in _plates(demo)) >= 8
