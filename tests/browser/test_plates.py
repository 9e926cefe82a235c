"""What a reader does with the plates of a lesson: its page opened in Chromium, from a host."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import combinations
from typing import Any

import numpy as np
import pytest
from playwright.sync_api import Browser, Locator, Page, ViewportSize, expect

from lessonpress.press.progress import Silent
from lessonpress.press.run import press
from tests.browser.axe import COLOURS, broken_rules
from tests.browser.host import hosted
from tests.browser.touch import Fingers
from tests.studio.site import MadeSite, make_site

LESSON = """\
---
title: From the top
date: 2026-11-23
clip: dune-face-on
---

```strip
id: sequence
frames: [setup, top, impact, finish]
draw:
  - vertical: navel
    placed: setup
  - tilt: [navel, c7]
    as: lean
    only: [top, impact]
caption: "It leans {lean.top}, then {lean.impact}."
```

```strip
id: flip
from: setup
to: impact
draw:
  - vertical: navel
    placed: setup
  - line: [navel, lead-wrist]
```

```pair
id: two
at: impact
of:
  - clip: dune-face-on
  - clip: shingle-face-on
draw:
  - tilt: [navel, c7]
    as: both
```

```loop
id: down
from: top
to: impact
slowed: 8
draw:
  - vertical: navel
    placed: setup
```

```frame
id: still
at: top
draw:
  - vertical: navel
caption: "At the top, one line."
```
"""
PHONE: ViewportSize = {"width": 412, "height": 915}
SCROLL_PADDING = 24  # px, of styles/text.css
SETTLED = """async () => {
    await document.fonts.ready;
    for (let count = 0; count < 4; count += 1) await new Promise(requestAnimationFrame);
}"""
TOP = "one => one.getBoundingClientRect().top"
SHIFTS = """() => new Promise(resolve => new PerformanceObserver(list =>
    resolve(list.getEntries().reduce((sum, one) => sum + one.value, 0))
).observe({type: "layout-shift", buffered: true}) || setTimeout(resolve, 300, 0))"""


# of the picture of a strip that is in view, in CSS px from its left upper corner
DRAWN = """plate => {
    const panel = plate.querySelector(".panel:not(.away)");
    const box = panel.querySelector("img").getBoundingClientRect();
    const shown = [...panel.querySelectorAll(".ov")].find(one => one.offsetWidth > 0);
    const standing = shown.querySelector("[data-kind=vertical] path").getBoundingClientRect();
    const dots = shown.querySelectorAll("[data-kind=line] :is(.dot, .hollow, .bead)");
    return {
        frame: Number(panel.dataset.head.match(/\\d+$/)[0]),
        dots: [...dots].map(dot => dot.getScreenCTM()).map(at => [at.e - box.left, at.f - box.top]),
        standing: standing.left + standing.width / 2 - box.left,
    };
}"""
# the boxes of all tags of each picture: whole, twice as large and at its source's own pixels
TAGS = """async () => {
    const dialog = document.querySelector(".closer");
    const frame = dialog.querySelector(".glass-frame");
    const does = name => dialog.querySelector(`[data-does=${name}]`);
    const boxes = () => [...dialog.querySelectorAll(".tag")].map(tag => tag.getBoundingClientRect())
        .filter(box => box.width).map(box => [box.left, box.top, box.right, box.bottom]);
    const found = [];
    while (true) {
        for (const times of [1, 2, 1000]) {
            does("whole").click();
            frame.dispatchEvent(new WheelEvent("wheel", {deltaY: -400 * Math.log(times), cancelable: true}));
            const width = frame.querySelector(".glass").offsetWidth;
            found.push({where: `${dialog.querySelector("p").textContent}, ${width} px`, boxes: boxes()});
        }
        if (does("on").ariaDisabled === "true") return found;
        does("on").click();
    }
}"""


@pytest.fixture(scope="module")
def notebook(tmp_path_factory: pytest.TempPathFactory) -> MadeSite:
    return make_site(tmp_path_factory.mktemp("plates") / "notebook", (), lessons=False)


@pytest.fixture(scope="module")
def address(notebook: MadeSite) -> Iterator[str]:
    """Of the lesson's page, on a host."""
    root = notebook.root
    (root / "lessons" / "down.md").write_text(LESSON, encoding="utf-8")
    done = press(root, root / "out", Silent())
    assert done.summary is not None, done.problems.errors
    with hosted(root / "out") as address:
        yield f"{address}lessons/down/"


@pytest.fixture(scope="module")
def phone(chromium: Browser, address: str) -> Iterator[Page]:
    """The page on a phone, whose console stays empty."""
    said: list[str] = []
    with chromium.new_page(viewport=PHONE, has_touch=True) as page:
        page.on("console", lambda message: said.append(message.text))
        page.on("pageerror", lambda error: said.append(str(error)))
        page.goto(address)
        page.evaluate("document.fonts.ready.then(() => 0)")
        yield page
        assert said == []


@pytest.fixture(autouse=True)
def _left_closed(request: pytest.FixtureRequest) -> Iterator[None]:
    """A test that fails while a picture is enlarged leaves the page to the others as it was."""
    yield
    if "phone" in request.fixturenames:
        page: Page = request.getfixturevalue("phone")
        page.evaluate("document.querySelector('dialog').close()")


def _strip(page: Page) -> Locator:
    return page.locator("#plate-sequence")


def _in_view(plate: Locator) -> str:
    """What is said over the one picture of a strip that is in view."""
    heads = plate.locator(".panel:visible .panel-head")
    expect(heads).to_have_count(1)
    return heads.inner_text()


def _turn_to(strip: Locator, event: str) -> None:
    """By its name; a picture comes into view once it is there."""
    strip.get_by_role("button", name=event).click()
    expect(strip.locator(".panel:visible")).to_contain_text(event)


def test_a_strip_is_stepped_by_button_key_name_and_rule(phone: Page) -> None:
    strip = _strip(phone)
    rule = strip.get_by_role("slider", name="Picture")
    assert _in_view(strip).startswith("Setup")
    strip.get_by_role("button", name="On", exact=True).click()
    expect(strip.locator(".panel:visible")).to_contain_text("Top")
    phone.keyboard.press("ArrowRight")
    expect(strip.locator(".panel:visible")).to_contain_text("Impact")
    _turn_to(strip, "Finish")
    rule.focus()
    phone.keyboard.press("Home")
    expect(strip.locator(".panel:visible")).to_contain_text("Setup")
    assert (rule.get_attribute("aria-valuetext") or "").startswith("Setup, ")
    rule.fill("97")
    expect(strip.locator(".panel:visible")).to_contain_text("Finish")


def test_a_finger_steps_a_strip_and_scrolls_the_page(phone: Page) -> None:
    """Real touches: a swipe turns one picture, a short or a steep one turns none and may scroll."""
    strip, fingers = _strip(phone), Fingers(phone)
    _turn_to(strip, "Finish")
    picture = strip.locator(".panel:visible .pic")
    picture.scroll_into_view_if_needed()
    fingers.swipe(picture, across=150)
    expect(strip.locator(".panel:visible")).to_contain_text("Impact")
    fingers.swipe(picture, across=-150)
    expect(strip.locator(".panel:visible")).to_contain_text("Finish")
    fingers.swipe(picture, across=20)
    before = phone.evaluate("scrollY")
    fingers.swipe(picture, across=60, down=-200)
    phone.wait_for_function("before => scrollY > before", arg=before)
    assert _in_view(strip).startswith("Finish")


def test_fingers_open_enlarge_and_move_a_picture_and_turn_to_the_next(phone: Page) -> None:
    """Real touches. The page behind stays where it is, and is swiped afterwards as before."""
    strip, dialog, fingers = _strip(phone), phone.get_by_role("dialog"), Fingers(phone)
    _turn_to(strip, "Setup")
    picture = strip.locator(".panel:visible .pic")
    picture.scroll_into_view_if_needed()
    behind = phone.evaluate("scrollY")
    frame, glass = dialog.locator(".glass-frame"), dialog.locator(".glass")
    for opening in (lambda: fingers.pinch(picture, 60, 200), lambda: fingers.tap(picture, times=2)):
        opening()
        expect(dialog).to_be_visible()
        opened = _width(glass)
        fingers.pinch(frame, 60, 84)
        _becomes(glass, "offsetWidth", 1.2 * opened, 1.6 * opened)
        left = frame.evaluate("frame => frame.scrollLeft")
        fingers.swipe(frame, across=-60)
        _becomes(frame, "scrollLeft", left + 58, left + 62)
        fingers.pinch(frame, 300, 30)
        _becomes(glass, "offsetWidth", 1, PHONE["width"])
        fingers.swipe(frame, across=-150)
        expect(dialog).to_contain_text("Plate I: Top, ")
        fingers.tap(frame, times=2)
        _becomes(glass, "offsetWidth", 2 * PHONE["width"] + 1, 10_000)
        assert phone.evaluate("[scrollY, visualViewport.scale]") == [behind, 1]
        phone.keyboard.press("Escape")
    fingers.swipe(picture, across=-150)
    expect(strip.locator(".panel:visible")).to_contain_text("Top")
    expect(dialog).to_be_hidden()


def _width(element: Locator) -> float:
    width: float = element.evaluate("one => one.offsetWidth")
    return width


def _becomes(element: Locator, name: str, least: float, most: float) -> None:
    """Waits until a property of an element, in CSS px, lies between these."""
    element.page.wait_for_function(
        "([one, name, least, most]) => least <= one[name] && one[name] <= most",
        arg=[element.element_handle(), name, least, most],
    )


def test_stepping_moves_nothing_and_is_announced(phone: Page) -> None:
    """WCAG 2.2, 4.1.3 (status messages)."""
    strip = _strip(phone)
    _turn_to(strip, "Setup")
    strip.get_by_role("button", name="On", exact=True).scroll_into_view_if_needed()
    boxes = [strip.bounding_box()]
    for event in ("Top", "Impact", "Finish"):
        strip.get_by_role("button", name="On", exact=True).click()
        expect(strip.locator(".panel:visible")).to_contain_text(event)
        boxes.append(strip.bounding_box())
    assert all(box == boxes[0] for box in boxes)
    expect(strip.get_by_role("status")).to_contain_text("Finish, ")
    expect(strip.locator(".count")).to_have_text("4 of 4")
    strip.get_by_role("button", name="Back", exact=True).click()
    here = strip.locator(".keys .m[aria-current]")
    expect(here).to_have_count(1)
    assert here.get_attribute("href") == "#m-lean.impact"


def test_a_stretch_is_stepped_picture_by_picture_and_fetched_as_it_comes_near(phone: Page) -> None:
    strip = phone.locator("#plate-flip")
    count = strip.locator(".panel").count()
    named = int(strip.locator(".frames").get_attribute("data-count") or 0)
    assert 2 <= named < count
    last = strip.locator(".panel").nth(count // 2).locator("img")
    expect(last).to_have_js_property("currentSrc", "")
    strip.get_by_role("button", name="On", exact=True).click()
    expect(strip.locator(".panel.between:visible .ov:visible")).to_have_count(1)
    for _ in range(count // 2 - 1):
        phone.keyboard.press("ArrowRight")
    expect(last).to_be_visible()
    expect(last).not_to_have_js_property("currentSrc", "")
    strip.get_by_role("button", name="All pictures at once").click()
    expect(strip.locator(".panel:visible")).to_have_count(named)
    strip.get_by_role("button", name="One picture at a time").click()


def test_carried_marks_move_with_the_picture_and_standing_lines_stay(phone: Page, notebook: MadeSite) -> None:
    """Against the film's own places, within 1 px: one scale and one corner serve all pictures."""
    strip, film = phone.locator("#plate-flip"), notebook.clips["dune-face-on"].px
    panels = strip.locator(".panel")
    strip.get_by_role("slider").focus()
    phone.keyboard.press("Home")
    seen: list[dict[str, Any]] = []
    for position in range(0, panels.count(), 4):
        for _ in range(4 if position else 0):
            phone.keyboard.press("ArrowRight")
        expect(panels.nth(position)).to_be_visible()
        seen.append(strip.evaluate(DRAWN))
    assert len(seen) >= 5
    filmed = np.array([[film[mark][one["frame"]] for mark in ("navel", "lead-wrist")] for one in seen])
    shown = np.array([one["dots"] for one in seen])
    centred = filmed - filmed.mean(axis=(0, 1))
    scale = (centred * shown).sum() / (centred**2).sum()
    assert np.abs(shown - shown.mean(axis=(0, 1)) - scale * centred).max() < 1
    assert np.ptp(shown[:, 1], axis=0).max() > 40, "the wrist goes far"
    standing = [one["standing"] for one in seen]
    assert np.ptp(standing) < 0.5 < 5 < np.ptp(shown[:, 0, 0])
    assert standing[0] == pytest.approx(shown[0, 0, 0], abs=1), "it stands where the navel was at setup"


def test_letters_key_and_caption_change_with_the_picture(phone: Page) -> None:
    strip = _strip(phone)
    letters = "tags => tags.map(tag => tag.dataset.letter).sort()"
    here = "numbers => numbers.map(number => number.hash)"
    for event, drawn, numbers in (
        ("Setup", ["A"], []),
        ("Top", ["A", "B"], ["#m-lean.top"]),
        ("Impact", ["A", "B"], ["#m-lean.impact"]),
        ("Finish", ["A"], []),
    ):
        _turn_to(strip, event)
        assert strip.locator(".panel:visible .ov:visible .tag").evaluate_all(letters) == drawn
        for place in (".keys", ".caption"):
            assert strip.locator(f"{place} .m[aria-current]").evaluate_all(here) == numbers, (event, place)
        elsewhere = strip.locator(".keys > .elsewhere .chip")
        expect(elsewhere).to_have_text([] if numbers else ["B"])


def test_a_line_and_its_key_light_each_other_up(phone: Page) -> None:
    """By mouse, by focus and by finger, whose light stays until the next touch."""
    strip, fingers = _strip(phone), Fingers(phone)
    _turn_to(strip, "Top")
    shown = strip.locator(".panel:visible .ov:visible")
    expect(shown.locator(".tag[data-letter=B]")).to_be_visible()

    def has_lit(letter: str) -> None:
        for one in "AB":
            opacity = "1" if letter in ("", one) else "0.25"
            expect(shown.locator(f".tag[data-letter={one}]")).to_have_css("opacity", opacity)
        lit = strip.locator(".keys > .alight .chip")
        expect(lit).to_have_text([letter] if letter else [])

    away = strip.locator(".plate-head")
    key, tag = {}, {}
    for one in "AB":
        key[one] = strip.locator(".keys > div").filter(has=phone.locator(f".chip:text-is('{one}')"))
        tag[one] = shown.locator(f".tag[data-letter={one}]")
    for place, letter in ((key["B"].locator("dd"), "B"), (tag["A"], "A"), (tag["B"], "B"), (key["A"], "A")):
        place.hover()
        has_lit(letter)
        away.hover()
        has_lit("")
    for one in "AB":
        key[one].get_by_role("button").focus()
        has_lit(one)
    strip.get_by_role("slider").focus()
    has_lit("")
    for place, letter in (
        (key["A"].locator("dt"), "A"),
        (tag["B"], "B"),
        (away, ""),
        (tag["A"], "A"),
        (away, ""),
    ):
        place.scroll_into_view_if_needed()
        fingers.tap(place)
        has_lit(letter)


def test_all_pictures_of_a_strip_can_be_had_at_once(phone: Page) -> None:
    strip = _strip(phone)
    strip.get_by_role("button", name="All pictures at once").click()
    expect(strip.locator(".panel:visible")).to_have_count(4)
    strip.get_by_role("button", name="One picture at a time").click()
    expect(strip.locator(".panel:visible")).to_have_count(1)


def test_a_loop_is_played_slowed_and_stepped_and_never_by_itself(phone: Page) -> None:
    loop = phone.locator("#plate-down")
    film = loop.locator("video")
    expect(film).to_have_js_property("paused", True)
    expect(film).to_have_js_property("currentTime", 0)
    loop.get_by_role("button", name="One picture on").click()
    expect(film).not_to_have_js_property("currentTime", 0)
    one = film.evaluate("film => film.currentTime")
    loop.get_by_role("button", name="One picture on").click()
    expect(film).not_to_have_js_property("currentTime", one)
    loop.get_by_role("button", name="One picture back").click()
    expect(film).to_have_js_property("currentTime", one)
    loop.get_by_role("button", name="Quarter pace").click()
    loop.get_by_role("button", name="Play").click()
    expect(film).to_have_js_property("paused", False)
    expect(film).to_have_js_property("playbackRate", 0.25)
    loop.get_by_role("button", name="Pause").click()
    expect(film).to_have_js_property("paused", True)


def test_a_picture_is_looked_at_closely_up_to_its_own_pixels(phone: Page) -> None:
    """Keys, wheel and double tap; strokes and letters keep their size; Escape leads back to the button."""
    strip, dialog = _strip(phone), phone.get_by_role("dialog")
    _turn_to(strip, "Setup")
    button = strip.get_by_role("button", name="Look closer")
    button.scroll_into_view_if_needed()
    whole = strip.locator(".panel:visible .pic").bounding_box()
    button.click()
    expect(dialog).to_be_visible()
    picture, tag = dialog.locator(".pic"), dialog.locator(".ov:visible .tag").first
    size = tag.bounding_box()
    dialog.get_by_role("button", name="Larger").click()
    phone.keyboard.press("+")
    dialog.locator(".glass-frame").dispatch_event("wheel", {"deltaY": -2000, "clientX": 195, "clientY": 400})
    assert whole and size
    own = int(picture.locator("img").get_attribute("width") or 0)
    largest = max(own, 3 * whole["width"])
    _becomes(picture, "offsetWidth", 0.95 * largest, 1.05 * largest)
    enlarged = tag.bounding_box()
    assert enlarged and enlarged["height"] == pytest.approx(size["height"], abs=1)
    phone.keyboard.press("0")
    _becomes(dialog.locator(".glass"), "offsetWidth", 1, PHONE["width"])
    phone.keyboard.press("ArrowRight")
    expect(dialog).to_contain_text("Plate I: Top, ")
    for _ in range(9):
        phone.keyboard.press("Tab")
        assert phone.evaluate(
            "!document.hasFocus() || document.activeElement.closest('dialog, body') !== null"
        )
    phone.keyboard.press("Escape")
    expect(dialog).to_be_hidden()
    expect(button).to_be_focused()
    assert strip.locator(".panel:visible .pic").bounding_box() == whole


def test_the_plates_of_a_lesson_are_leafed_through_as_a_whole(phone: Page) -> None:
    """By a rule and by name; by button, arrow key and swipe see the tests above."""
    dialog, head = phone.get_by_role("dialog"), phone.locator("#closer-head")
    _strip(phone).get_by_role("button", name="Look closer").click()
    rule = dialog.get_by_role("slider", name="Picture")
    dialog.get_by_role("button", name="Plate III · Swing 2: Impact").click()
    expect(head).to_contain_text("Plate III · Swing 2: Impact, ")
    expect(dialog.locator(".names [aria-current]")).to_have_text("Plate III · Swing 2: Impact")
    rule.focus()
    phone.keyboard.press("End")
    expect(head).to_contain_text("Plate V: Top, ")
    expect(dialog.get_by_role("button", name="On", exact=True)).to_have_attribute("aria-disabled", "true")
    phone.keyboard.press("ArrowLeft")
    expect(head).to_contain_text("Plate III · Swing 2: Impact, ")
    rule.fill("1")
    expect(head).to_contain_text("Plate I: Top, ")
    assert (rule.get_attribute("aria-valuetext") or "").startswith("Plate I: Top, ")
    dialog.get_by_role("button", name="On", exact=True).click()
    expect(rule).to_have_js_property("value", "2")
    phone.keyboard.press("Escape")


def test_tags_of_an_enlarged_picture_never_lie_on_each_other(chromium: Browser, address: str) -> None:
    for width, height in ((360, 740), (1440, 900)):
        with chromium.new_page(viewport={"width": width, "height": height}) as page:
            page.goto(address)
            _strip(page).get_by_role("button", name="Look closer").click()
            looked = page.evaluate(TAGS)
            assert len(looked) > 30 and max(len(one["boxes"]) for one in looked) > 1
            assert [one["where"] for one in looked if _any_overlap(one["boxes"])] == []


def _any_overlap(boxes: list[list[float]]) -> bool:
    return any(
        one[0] < other[2] and other[0] < one[2] and one[1] < other[3] and other[1] < one[3]
        for one, other in combinations(boxes, 2)
    )


def test_lines_are_hidden_as_a_whole_and_one_by_one(phone: Page) -> None:
    strip = _strip(phone)
    line = strip.locator(".panel:visible .ov:visible .tag[data-letter=A]")
    expect(line).to_be_visible()
    strip.get_by_role("button", name="Drawn: A").click()
    expect(line).to_be_hidden()
    strip.get_by_role("button", name="Drawn: A").click()
    strip.get_by_role("button", name="Hide the lines").click()
    expect(strip.locator(".ov:visible")).to_have_count(0)
    strip.get_by_role("button", name="Show the lines").click()
    expect(line).to_be_visible()


def test_a_pair_is_compared_side_by_side_divided_and_changing_places(phone: Page) -> None:
    """Where less motion is asked for nothing changes places by itself."""
    phone.emulate_media(reduced_motion="reduce")
    pair = phone.locator("#plate-two")
    first, second = pair.locator(".pic").nth(0), pair.locator(".pic").nth(1)
    apart = "first => first.closest('.panel').nextElementSibling.offsetLeft"
    beside = first.evaluate(apart)
    assert beside > 0
    pair.get_by_role("button", name="One over the other").click()
    assert first.bounding_box() == second.bounding_box()
    pair.get_by_role("slider").fill("30")
    expect(first).to_have_css("clip-path", "inset(0px 70% 0px 0px)")
    pair.get_by_role("button", name="Changing places").click()
    expect(first).to_be_visible()
    pair.get_by_role("button", name="The other swing").click()
    expect(first).to_be_hidden()
    pair.get_by_role("button", name="Side by side").click()
    expect(first).to_be_visible()
    assert first.evaluate(apart) == beside


def test_controls_break_no_rule_that_a_machine_can_check_and_can_be_touched(phone: Page) -> None:
    """WCAG 2.2 A and AA by axe-core; 24 CSS px each way, 2.5.8 Target Size (Minimum)."""
    phone.emulate_media(color_scheme="light")
    broken = broken_rules(phone, "light")
    phone.emulate_media(color_scheme="dark")
    assert [*broken, *broken_rules(phone, "dark", kin=COLOURS)] == []
    sizes = phone.locator(".controls :is(button, input):visible").evaluate_all(
        "all => all.map(one => [one.offsetWidth, one.offsetHeight])"
    )
    assert len(sizes) > 10
    assert min(min(size) for size in sizes) >= 24


def test_opened_controls_break_no_rule_that_a_machine_can_check(phone: Page) -> None:
    """WCAG 2.2 A and AA and best practice, by axe-core: a picture enlarged, a pair compared, a loop begun."""
    _strip(phone).get_by_role("button", name="Look closer").click()
    broken = broken_rules(phone, "enlarged")
    phone.keyboard.press("Escape")
    pair, loop = phone.locator("#plate-two"), phone.locator("#plate-down")
    for way in ("One over the other", "Changing places"):
        pair.get_by_role("button", name=way).click()
        broken += broken_rules(phone, way, "#plate-two")
    pair.get_by_role("button", name="Side by side").click()
    loop.get_by_role("button", name="Play").click()
    broken += broken_rules(phone, "playing", "#plate-down")
    loop.get_by_role("button", name="Pause").click()
    broken += broken_rules(phone, "paused", "#plate-down")
    assert broken == []


def test_on_a_desk_words_begin_beside_their_picture_and_controls_end_below_it(phone: Page) -> None:
    phone.set_viewport_size({"width": 1440, "height": 900})
    try:
        plate = phone.locator("#plate-still")
        picture, words, looks = (
            plate.locator(one).bounding_box() for one in (".frames", "figcaption", ".looks")
        )
    finally:
        phone.set_viewport_size(PHONE)
    assert picture and words and looks
    assert words["x"] > picture["x"] + picture["width"] and abs(words["y"] - picture["y"]) < 20
    assert picture["y"] + picture["height"] <= looks["y"] and looks["height"] < 80


def test_the_page_is_whole_without_scripts(chromium: Browser, address: str) -> None:
    context = chromium.new_context(java_script_enabled=False, viewport=PHONE)
    page = context.new_page()
    page.goto(address)
    assert page.locator(".controls:visible").count() == 0
    assert page.locator("#plate-sequence .panel:visible").count() == 4
    assert (
        page.locator("#plate-flip .panel:visible").count() == page.locator("#plate-flip .panel").count() > 1
    )
    assert page.locator("video[controls]").count() == 1
    context.close()


def test_what_to_say_of_a_plate_is_copied_in_the_reader_s_own_units(phone: Page) -> None:
    phone.context.grant_permissions(["clipboard-read", "clipboard-write"])
    plate = phone.locator("#plate-still")
    plate.get_by_text("Use this diagram").click()
    copy = plate.get_by_role("button", name="Copy").first
    copy.click()
    expect(plate.locator(".use > [role=status]")).to_have_text("Copied")
    shown = plate.locator(".copied > span").first.inner_text()
    assert phone.evaluate("navigator.clipboard.readText()") == shown
    expect(plate.get_by_role("button", name="Copy")).to_have_count(2)
    assert broken_rules(phone, "a plate to be used", "#plate-still") == []
    plate.get_by_text("Use this diagram").click()


def test_what_lies_below_is_laid_out_as_it_comes_near_and_nothing_moves(
    chromium: Browser, address: str
) -> None:
    """A page that is entered at its last plate stays there, also when it is read upward from there."""
    with chromium.new_page(viewport=PHONE) as page:
        page.goto(address)
        shown = "one => one.querySelector('.pic').checkVisibility({contentVisibilityAuto: true})"
        last = page.locator("#plate-still")
        assert _strip(page).evaluate(shown)
        assert not last.evaluate(shown)
        page.goto("about:blank")
        page.goto(f"{address}#plate-still")
        expect(last).to_be_in_viewport()
        page.evaluate(SETTLED)
        assert last.evaluate(TOP) == pytest.approx(SCROLL_PADDING, abs=2)
        for _ in range(6):
            before = last.evaluate(TOP)
            page.evaluate("scrollBy(0, -300)")
            page.evaluate(SETTLED)
            assert last.evaluate(TOP) == pytest.approx(before + 300, abs=2)
        assert page.evaluate(SHIFTS) < 0.05


def test_where_colours_are_forced_focus_borders_and_lines_are_seen(chromium: Browser, address: str) -> None:
    """CSS Color Adjustment, 3: what a colour or a shadow alone says is gone there."""
    with chromium.new_page(viewport=PHONE, forced_colors="active") as page:
        page.goto(address)
        strip = _strip(page)
        for button in strip.locator(".controls button:visible").all():
            if "names" not in (button.locator("..").get_attribute("class") or ""):
                assert _styled(button, "borderTopStyle") == "solid"
        on = strip.get_by_role("button", name="On", exact=True)
        on.focus()
        page.keyboard.press("Shift+Tab")
        page.keyboard.press("Tab")
        expect(on).to_be_focused()
        assert _styled(on, "outlineStyle") == "solid"
        current, other = strip.locator(".names [aria-current]"), strip.locator(".names button").last
        assert _styled(current, "borderBottomStyle") == "solid" != _styled(other, "borderBottomStyle")
        lines = strip.locator(".panel:visible .ov:visible path[stroke]")
        colours = set(lines.evaluate_all("all => all.map(one => getComputedStyle(one).stroke)"))
        assert {"rgb(255, 253, 244)", "rgb(0, 0, 0)"} <= colours  # a casing, and ink on it
        thumb = strip.get_by_role("slider").evaluate("one => getComputedStyle(one).forcedColorAdjust")
        assert thumb == "none"  # its pointer has the colour of what is chosen, not the page's own


def _styled(element: Locator, name: str) -> str:
    value: str = element.evaluate("(one, name) => getComputedStyle(one)[name]", name)
    return value


def test_four_times_enlarged_nothing_covers_what_is_read_and_tags_do_not_meet(
    chromium: Browser, address: str
) -> None:
    """1280 × 1024 px at 400 %. Source: WCAG 2.2, 1.4.10 and 2.4.11."""
    with chromium.new_page(viewport={"width": 320, "height": 256}) as page:
        page.goto(address)
        assert page.locator(".tray > summary").evaluate(
            "one => getComputedStyle(one.parentElement).position"
        ) == ("static")
        strip, dialog = _strip(page), page.get_by_role("dialog")
        _turn_to(strip, "Top")
        strip.get_by_role("button", name="Look closer").click()
        expect(dialog).to_be_visible()
        boxes = [tag.bounding_box() for tag in dialog.locator(".ov:visible .tag").all()]
        assert len(boxes) > 1
        for one, other in combinations([box for box in boxes if box], 2):
            apart = one["x"] + one["width"] <= other["x"] or other["x"] + other["width"] <= one["x"]
            above = one["y"] + one["height"] <= other["y"] or other["y"] + other["height"] <= one["y"]
            assert apart or above
        frame = dialog.locator(".glass-frame")
        before = frame.evaluate("frame => frame.scrollTop")
        page.keyboard.press("ArrowDown")
        _becomes(frame, "scrollTop", before + 1, 10_000)
