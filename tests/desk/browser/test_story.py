"""The author's whole story: a dropped video becomes a lesson whose numbers agree with the studio's truth."""

from __future__ import annotations

import json
from collections.abc import Iterator
from pathlib import Path

import pytest
import yaml
from playwright.sync_api import FrameLocator, Page

from tests.desk.browser.conftest import Author, bare_site, running
from tests.studio.camera import Camera, looking_at
from tests.studio.clip import MadeClip, make_clip
from tests.studio.room import INCH
from tests.studio.swingers import DUNE

MARKS = ("navel", "c7", "trail-elbow", "trail-wrist", "implement-head")
MOST_ACTS = 50  # the goal set for three figures and five marks
CAMERA = looking_at((0, 0.92, 0), (0.0, 1.05, 168 * INCH), Camera(focal=960.0, size=(960, 600)))


@pytest.fixture(scope="module")
def footage(tmp_path_factory: pytest.TempPathFactory) -> MadeClip:
    """A drawn clip with targets at five joints, as it comes from the camera: no card, no marks."""
    return make_clip(tmp_path_factory.mktemp("camera"), DUNE, CAMERA, 120, dots=MARKS, placed=[])


@pytest.fixture
def notebook(tmp_path: Path) -> Path:
    return bare_site(tmp_path / "notebook")


@pytest.fixture
def fresh(notebook: Path, desk_page: Page) -> Iterator[Author]:
    """An author at a desk on a site with nothing in it."""
    with running(notebook) as address:
        desk_page.goto(address)
        desk_page.locator("main[data-open=contents]").wait_for()
        made = Author(desk_page)
        yield made
        assert made.faults == []


def _events(notebook: Path, footage: MadeClip) -> tuple[int, int]:
    """The frames of setup and top, as the card has them."""
    card = yaml.safe_load((notebook / "clips" / footage.name / "clip.yaml").read_text("utf-8"))
    return card["events"]["setup"], card["events"]["top"]


def _agrees_with_truth(notebook: Path, footage: MadeClip, proof: FrameLocator) -> None:
    """The three numbers of the pressed page hold the truth within their ±, at the events as set."""
    setup, top = (float(footage.times[frame]) for frame in _events(notebook, footage))
    truth = {
        "shift": footage.truth.shift("navel", setup, top) / INCH,
        "tilt": footage.truth.tilt("navel", "c7", top),
        "angle": footage.truth.angle("trail-elbow", "trail-wrist", "implement-head", top),
    }
    pressed = notebook / "build" / "proof" / "lessons" / "three-figures" / "measures.json"
    measures = {one["kind"]: one for one in json.loads(pressed.read_text("utf-8"))["measures"]}
    assert measures.keys() == truth.keys()
    ledger = proof.locator("table.ledger, .ledger table").first.inner_text()
    for kind, true in truth.items():
        one = measures[kind]
        assert abs(one["value"] - true) <= one["uncertainty"], (kind, one["value"], one["uncertainty"], true)
        assert 0 < one["uncertainty"] < {"shift": 2, "tilt": 6, "angle": 35}[kind]
        assert f"{abs(one['value']):.0f}"[:1] in ledger


def _waits_for_proof(author: Author) -> FrameLocator:
    author.page.locator("main[data-open=lesson]").wait_for()
    author.page.locator(".stand p b", has_text="Pressed").wait_for()
    proof = author.page.frame_locator("iframe.proof")
    proof.locator("h1", has_text="Three figures").wait_for()
    return proof


def test_five_marks_and_three_figures_take_no_more_than_fifty_acts_and_their_numbers_are_true(
    fresh: Author, notebook: Path, footage: MadeClip
) -> None:
    page, px = fresh.page, footage.px
    fresh.drop(footage.video)
    form = page.locator(".card-form")
    form.wait_for()
    fresh.click(form.get_by_label("Face-on"))
    fresh.click(form.get_by_label("Right"))
    fresh.type(form.get_by_label("Credit, as it is printed"), "The Studio")
    fresh.click(form.get_by_label("No one: a drawn or empty scene"))
    fresh.click(form.get_by_label("It stood still, on a tripod"))
    fresh.click(form.get_by_role("button", name="Keep the card"))

    page.locator(".event.proposed").nth(3).wait_for()
    fresh.key("y")  # all four as the film suggests them
    page.locator(".event:not(.proposed)").nth(3).wait_for()
    fresh.settled()
    setup, top = _events(notebook, footage)
    fresh.sees_frame(setup)
    fresh.key("m")
    fresh.type(page.get_by_label("Name", exact=True), "navel, c7, trail elbow, trail wrist, clubhead")
    fresh.key("Enter")
    for mark in MARKS:  # the next one is in hand by itself
        fresh.click_at(*px[mark][setup])
    fresh.key("w")  # where the next mark is missing, with its name in hand
    fresh.sees_frame(top)
    for mark in MARKS:
        fresh.click_at(*px[mark][top])
    fresh.key("c")
    page.get_by_text("Carried, not kept yet").wait_for()
    fresh.key("Enter")
    page.locator("#head .kept", has_text="tracks.csv").wait_for()
    fresh.key("d")
    fresh.sees_frame(top + 1)
    page.locator(".in-hand h3", has_text="Navel").wait_for()
    fresh.click_at(*px["navel"][top + 1])  # corrected

    fresh.key("k")
    fresh.click_at(*px["stick-top"][setup])  # it does not move: any frame is good
    fresh.click_at(*px["stick-foot"][setup])
    fresh.type(page.get_by_label("How long is it?"), "36 in")
    fresh.key("Enter")
    fresh.key("u")
    fresh.click_at(*px["cord-top"][setup])
    fresh.click_at(*px["cord-foot"][setup])
    page.locator(".room tr", has_text="Plumb lines").get_by_text("1", exact=True).wait_for()
    page.locator(".room tr", has_text="Scales").get_by_text("1", exact=True).wait_for()

    fresh.key("2")
    fresh.sees_frame(top)
    fresh.key("p")
    fresh.key("s")
    fresh.click_at(*px["navel"][top])
    page.locator(".drawn .n").wait_for()
    fresh.key("Enter")
    page.get_by_text("One plate set").wait_for()
    fresh.key("o")
    fresh.click_at(*px["navel"][top])
    fresh.click_at(*px["c7"][top])
    page.locator(".drawn .n").wait_for()
    fresh.key("Enter")
    page.get_by_text("Two plates set").wait_for()
    fresh.key("p")
    for mark in ("trail-elbow", "trail-wrist", "implement-head"):
        fresh.click_at(*px[mark][top])
    page.locator(".drawn .n").wait_for()
    fresh.key("n")
    fresh.type(page.get_by_label("Its title"), "Three figures")
    fresh.key("Enter")

    proof = _waits_for_proof(fresh)
    _agrees_with_truth(notebook, footage, proof)
    assert fresh.acts <= MOST_ACTS, f"it took {fresh.acts} acts"


def _steer(author: Author, to: tuple[float, float]) -> None:
    """Moves the cross with arrows, by 10, 1 and 0.1 px."""
    for axis, ways in enumerate((("ArrowLeft", "ArrowRight"), ("ArrowUp", "ArrowDown"))):
        tenths = round((to[axis] - author.cross()[axis]) * 10)
        way = ways[tenths > 0]
        for modifier, size in (("Shift+", 100), ("", 10), ("Alt+", 1)):
            for _ in range(abs(tenths) // size):
                author.key(modifier + way)
            tenths = abs(tenths) % size
    x, y = author.cross()
    assert abs(x - to[0]) <= 0.11 and abs(y - to[1]) <= 0.11, (
        to,
        (x, y),
        author.page.locator("#frame").get_attribute("aria-label"),
    )


def test_the_whole_story_can_be_done_by_keyboard_alone(
    fresh: Author, notebook: Path, footage: MadeClip
) -> None:
    page, px = fresh.page, footage.px
    page.evaluate("document.activeElement.blur()")
    for _ in range(6):
        fresh.key("Tab")
        if page.evaluate("document.activeElement.id") == "video":
            break
    assert page.evaluate("document.activeElement.id") == "video"
    with page.expect_file_chooser() as chooser:
        fresh.key("Space")
    chooser.value.set_files(footage.video)
    page.locator(".card-form").wait_for()
    fresh.key("Space")  # face-on
    for key in ("Tab", "Space", "Tab", "Space", "Tab", "Tab"):  # right, on a tripod, own footage
        fresh.key(key)
    page.keyboard.type("The Studio")
    for key in ("Tab", "Tab", "Space", "Enter"):  # no one can be seen
        fresh.key(key)

    page.locator(".event.proposed").nth(3).wait_for()
    fresh.key("y")
    page.locator(".event:not(.proposed)").nth(3).wait_for()
    fresh.settled()
    setup, top = _events(notebook, footage)
    for frame in (setup, top):
        fresh.sees_frame(frame)
        for mark in MARKS:
            fresh.take(mark)
            _steer(fresh, tuple(px[mark][frame]))
            fresh.key("Enter")
        fresh.key("w")
    fresh.key("2")
    fresh.sees_frame(top)
    fresh.key("c")
    page.get_by_text("Carried, not kept yet").wait_for()
    fresh.key("Enter")
    page.locator("#head .kept", has_text="tracks.csv").wait_for()

    for key, ends in (("k", ("stick-top", "stick-foot")), ("u", ("cord-top", "cord-foot"))):
        fresh.key(key)
        for end in ends:
            _steer(fresh, tuple(px[end][setup]))
            fresh.key("Enter")
        if key == "k":
            page.keyboard.type("36 in")
            fresh.key("Enter")
    page.locator(".room tr", has_text="Plumb lines").get_by_text("1", exact=True).wait_for()

    fresh.key("p")
    for key, marks in (("s", MARKS[:1]), ("o", MARKS[:2]), ("p", MARKS[2:])):
        fresh.key(key)
        for mark in marks:
            fresh.take(mark)
        page.locator(".drawn .n").wait_for()
        if key != "p":
            fresh.key("Enter")
            page.locator(".drawn").wait_for(state="detached")
    fresh.key("n")
    page.keyboard.type("Three figures")
    fresh.key("Enter")
    _agrees_with_truth(notebook, footage, _waits_for_proof(fresh))
