"""The author's whole story: a dropped video becomes a lesson whose numbers agree with the studio's truth."""

from __future__ import annotations

import json
import shutil
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
import yaml
from playwright.sync_api import FrameLocator, Page

from lessonpress.footage import can_suggest
from tests.desk.browser.conftest import Author, author_at, bare_site
from tests.studio.camera import Camera, looking_at
from tests.studio.clip import MadeClip, make_clip
from tests.studio.room import INCH
from tests.studio.swingers import DUNE, SHINGLE

MARKS = ("navel", "c7", "trail-elbow", "trail-wrist", "implement-head")
MOST_ACTS = 50  # the goal set for three figures and five marks
MOST_USUAL = 20  # and for three figures in each of three pictures, where the site says what is usual
MOST_WEEKLY = 12  # of the next film, besides writing
WRITING = 1  # the title
CAMERA = looking_at((0, 0.92, 0), (0.0, 1.05, 168 * INCH), Camera(focal=960.0, size=(960, 600)))


@pytest.fixture(scope="module")
def footage(tmp_path_factory: pytest.TempPathFactory) -> MadeClip:
    """A drawn clip with targets at five joints, as it comes from the camera: no card, no marks."""
    return make_clip(tmp_path_factory.mktemp("camera"), DUNE, CAMERA, 60, dots=MARKS, placed=[])


@pytest.fixture
def notebook(tmp_path: Path) -> Path:
    return bare_site(tmp_path / "notebook")


@pytest.fixture
def fresh(notebook: Path, desk_page: Page) -> Iterator[Author]:
    """An author at a desk on a site with nothing in it."""
    with author_at(notebook, desk_page) as made:
        yield made


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
    ledger = proof.locator("table.ledger, .ledger table").first.text_content() or ""
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


USUAL = """
sets:
  body:
    - shift: navel
      as: navel
      only: [top, impact]
    - tilt: [navel, c7]
      as: lean
      only: [setup, top, impact]
    - angle: [lead-hip, lead-knee, lead-ankle]
      as: knee
      only: [setup, top, impact]
"""


@pytest.fixture(scope="module")
def bare_film(tmp_path_factory: pytest.TempPathFactory) -> MadeClip:
    """A drawn clip as it comes from the camera, of a golfer by whom nothing was set."""
    return make_clip(tmp_path_factory.mktemp("camera"), SHINGLE, CAMERA, 60, placed=[])


def _answers_the_card(author: Author) -> None:
    form = author.page.locator(".card-form")
    form.wait_for()
    author.click(form.get_by_label("Face-on"))
    author.click(form.get_by_label("Left"))
    author.click(form.get_by_label("It stood still, on a tripod"))
    author.click(form.get_by_label("No one: a drawn or empty scene"))
    author.click(form.get_by_role("button", name="Keep the card"))


def _lays_out_and_accepts(author: Author, notebook: Path, clip: str, title: str = "") -> None:
    """The usual plates, and in each picture what is suggested for them."""
    page = author.page
    page.locator(".event.proposed").nth(3).wait_for()
    author.settled()
    author.key("Shift+P")
    page.get_by_label("The lesson’s title").wait_for()
    if title:  # else what the clip is called
        author.type(page.get_by_label("The lesson’s title"), title)
    author.key("Enter")
    page.locator("section.suggested:not([hidden])").wait_for()
    author.settled()
    written = yaml.safe_load((notebook / "clips" / clip / "clip.yaml").read_text("utf-8"))
    for event in ("setup", "top", "impact"):
        author.sees_frame(written["events"][event])
        page.locator("section.suggested:not([hidden]) button.chief").wait_for()
        author.key("Shift+S")
    page.locator(".waiting .set").wait_for()
    author.settled()


def _numbers(notebook: Path, lesson: str) -> dict[str, dict[str, Any]]:
    pressed = notebook / "build" / "proof" / "lessons" / lesson / "measures.json"
    return {one["id"]: one for one in json.loads(pressed.read_text("utf-8"))["measures"]}


@pytest.mark.skipif(not can_suggest(), reason="the extra `suggest` is not installed")
def test_usual_plates_take_no_more_than_twenty_acts_and_in_the_second_week_twelve(
    fresh: Author, notebook: Path, bare_film: MadeClip, tmp_path: Path
) -> None:
    """Three figures in each of three pictures, of five marks each; then the same of the next week's film."""
    file = notebook / "site.yaml"
    file.write_text(file.read_text("utf-8") + USUAL, encoding="utf-8")
    page, px = fresh.page, bare_film.px
    fresh.drop(bare_film.video)
    _answers_the_card(fresh)
    _lays_out_and_accepts(fresh, notebook, bare_film.name)
    fresh.key("k")
    for end in ("stick-top", "stick-foot"):
        fresh.click_at(*px[end][0])
    fresh.type(page.get_by_label("How long is it?"), "36 in")
    fresh.key("Enter")
    fresh.key("u")
    for end in ("cord-top", "cord-foot"):
        fresh.click_at(*px[end][0])
    page.locator(".room tr", has_text="Plumb lines").get_by_text("1", exact=True).wait_for()
    fresh.click(page.get_by_role("link", name="See the proof"))
    _waits_for_page(fresh, bare_film.name)
    setup, top = (bare_film.seconds(event) for event in ("setup", "top"))
    truth = bare_film.truth
    true = {
        "navel.top": truth.shift("navel", setup, top) / INCH,
        "lean.setup": truth.tilt("navel", "c7", setup),
        "knee.top": truth.angle("lead-hip", "lead-knee", "lead-ankle", top),
    }
    measured = _numbers(notebook, bare_film.name)
    assert {name for name in measured if "." in name} >= true.keys()
    for name, value in true.items():
        assert abs(measured[name]["value"] - value) <= measured[name]["uncertainty"], (measured[name], value)
    assert fresh.acts <= MOST_USUAL, f"it took {fresh.acts} acts"

    fresh.acts = 0
    page.goto(f"{fresh.home}#/")
    page.locator("main[data-open=contents]").wait_for()
    next_week = Path(shutil.copy(bare_film.video, tmp_path / "next-week.mp4"))
    fresh.drop(next_week)
    _answers_the_card(fresh)
    _lays_out_and_accepts(fresh, notebook, "next-week", "Second week")
    assert fresh.acts - WRITING <= MOST_WEEKLY, f"it took {fresh.acts} acts"


def _waits_for_page(author: Author, title: str) -> None:
    author.page.locator("main[data-open=lesson]").wait_for()
    author.page.locator(".stand p b", has_text="Pressed").wait_for()
    author.page.frame_locator("iframe.proof").locator("h1", has_text=title).wait_for()


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
