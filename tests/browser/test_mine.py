"""What a reader chooses under "Set the page": what it changes, what it leaves, and that it is remembered.

One small site is pressed and served: a length, a lean, a clock time, a pair and a mirrored plate.
"""

from __future__ import annotations

import json
import re
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import Browser, BrowserContext, Page, expect

from lessonpress.intake import start_site
from lessonpress.press.progress import Silent
from lessonpress.press.run import press
from tests.browser.axe import broken_rules
from tests.browser.host import hosted

LESSON = "lessons/first-lesson/index.html"
MORE = """
By then it has gone {reach:size} ({reach:cm}), which is {reach:answer}; the arm points to {arm:clock}.

```frame
id: more
at: impact
draw:
  - shift: navel
    as: reach
    expect: 1..3 in toward
    label: "so {reach:value}"
  - clock: [navel, c7]
    as: arm
  - distance: [lead-shoulder, trail-shoulder]
    as: wide
```

```frame
id: about
at: top
mirrored: true
draw:
  - line: [navel, c7]
  - clock: [navel, c7]
    as: hand
```
"""
PHONE = {"width": 412, "height": 915}
CM_PER_INCH = 2.54  # exact: international yard and pound agreement, 1959
# Everything that can be read and is displayed: (words, where it stands).
_SAID = r"""() => {
    const hidden = one => one && (getComputedStyle(one).display === "none" || hidden(one.parentElement));
    const said = [];
    const walk = document.createTreeWalker(document.querySelector("main"), NodeFilter.SHOW_TEXT);
    for (const details of document.querySelectorAll("details")) details.open = true;
    while (walk.nextNode()) {
        const words = walk.currentNode.textContent.trim();
        if (words && !hidden(walk.currentNode.parentElement)) said.push(words);
    }
    return said.concat([...document.images].map(picture => picture.alt));
}"""
_SHOWN = """selector => [...document.querySelectorAll(selector)].map(one => one.innerText.trim())"""
# what lies far below has no inner text until it is laid out
_LAY_OUT = """() => {
    for (const part of document.querySelectorAll(".body > *")) part.style.contentVisibility = "visible";
}"""
# Of each picture: where it is, the round signs on it, and every piece of lettering with which way it runs.
_DRAWN = """() => [...document.querySelectorAll(".pic:has(img)")].map(pic => {
    const box = pic.querySelector("img").getBoundingClientRect();
    const svg = [...pic.querySelectorAll(".ov > svg")].find(one => one.getBoundingClientRect().width > 0);
    const at = sign => [sign.getScreenCTM().e - box.left, sign.getScreenCTM().f - box.top];
    return {
        width: box.width,
        flipped: new DOMMatrix(getComputedStyle(pic.querySelector("img")).transform).a < 0,
        signs: [...svg.querySelectorAll(".dot, .hollow, .bead")].map(at),
        lettering: [...svg.querySelectorAll("text")].filter(text => text.getClientRects().length).map(
            text => text.getScreenCTM().a),
        tags: [...svg.querySelectorAll(".tag")].map(tag => {
            const one = tag.getBoundingClientRect();
            return [one.left - box.left, one.right - box.left, one.top - box.top];
        }),
    };
})"""


@pytest.fixture(scope="module")
def served(tmp_path_factory: pytest.TempPathFactory) -> Iterator[tuple[str, Path]]:
    """The address of the small site, and the folder it was pressed to."""
    root = tmp_path_factory.mktemp("mine") / "notebook"
    start_site(root)
    lesson = root / "lessons" / "first-lesson.md"
    lesson.write_text(lesson.read_text(encoding="utf-8") + MORE, encoding="utf-8")
    done = press(root, root / "out", Silent())
    assert done.summary is not None, done.problems.errors
    with hosted(root / "out") as address:
        yield address, root / "out"


@pytest.fixture
def context(chromium: Browser) -> Iterator[BrowserContext]:
    made = chromium.new_context(viewport=PHONE, has_touch=True)
    yield made
    made.close()


@pytest.fixture
def page(context: BrowserContext, served: tuple[str, Path]) -> Page:
    """The lesson as it comes, its tray open."""
    page = context.new_page()
    page.goto(served[0] + LESSON)
    page.evaluate(_LAY_OUT)
    page.evaluate("document.fonts.ready.then(() => 0)")  # a tag is as wide as its letters
    page.get_by_text("Set the page").first.click()
    return page


def measures(folder: Path) -> dict[str, Any]:
    read = json.loads((folder / LESSON).with_name("measures.json").read_text(encoding="utf-8"))
    return {one["id"]: one for one in read["measures"]}


def choose(page: Page, words: str) -> None:
    page.locator("form.settings").first.get_by_label(words, exact=True).check()


def test_every_length_of_the_page_changes_and_agrees_with_the_data(
    page: Page, served: tuple[str, Path]
) -> None:
    """Each is within half a step of the unrounded value in measures.json, times 2.54."""
    choose(page, "Centimetres")
    said = page.evaluate(_SAID)
    assert not [words for words in said if re.search(r"\d (in|mph)\b", words)]
    for name, measure in measures(served[1]).items():
        if measure["unit"] != "in":
            continue
        number, pm, unit = (
            page.locator(f"#m-{name} > {cell}").inner_text() for cell in (".n", ".pm", ".unit")
        )
        assert unit == "cm"
        step = 10 ** -len(number.partition(".")[2])
        assert float(number) == pytest.approx(abs(measure["value"]) * CM_PER_INCH, abs=0.5 * step)
        assert float(pm.lstrip("±")) == pytest.approx(measure["uncertainty"] * CM_PER_INCH, rel=0.15)
        assert any(f"{number} cm" in words for words in said if words != number), name


def test_a_number_in_both_units_changes_places(page: Page) -> None:
    asked = "#n-reach-1, #n-reach-2"
    inches, centimetres = page.evaluate(_SHOWN, asked)
    choose(page, "Centimetres")
    assert page.evaluate(_SHOWN, asked) == [centimetres, inches]


def test_turned_about_lines_stay_on_the_body_and_words_are_not_reversed(page: Page) -> None:
    """Signs and tags are where they were, mirrored, within 1 px; a plate mirrored before is so no more."""
    page.evaluate("for (const picture of document.images) picture.loading = 'eager'")
    before = page.evaluate(_DRAWN)
    choose(page, "Mirrored")
    after = page.evaluate(_DRAWN)
    assert [one["flipped"] for one in after] == [not one["flipped"] for one in before]
    for one, other in zip(before, after, strict=True):
        for (x, y), (u, v) in zip(one["signs"], other["signs"], strict=True):
            assert (u, v) == (pytest.approx(one["width"] - x, abs=1), pytest.approx(y, abs=1))
        assert other["lettering"] and min(other["lettering"]) > 0
    filmed, turned = before[0], after[0]
    for (left, right, top), (other_left, other_right, other_top) in zip(
        filmed["tags"], turned["tags"], strict=True
    ):
        assert other_left == pytest.approx(filmed["width"] - right, abs=1)
        assert other_right == pytest.approx(filmed["width"] - left, abs=1)
        assert other_top == pytest.approx(top, abs=1)


def test_a_clock_time_is_that_of_the_picture_as_seen(page: Page, served: tuple[str, Path]) -> None:
    """On a face seen from behind, t is 12:00 − t; of a plate that was mirrored before as well."""
    values = {name: measures(served[1])[name]["value"] for name in ("arm", "hand")}
    for name, value in values.items():
        shown = page.locator(f"#m-{name} > .n").inner_text()
        assert minutes(shown) == pytest.approx(2 * value % 720, abs=2.5)
    choose(page, "Mirrored")
    for name, value in values.items():
        shown = page.locator(f"#m-{name} > .n").inner_text()
        assert minutes(shown) == pytest.approx(-2 * value % 720, abs=2.5)
        assert any(f"{shown} ±" in words for words in page.evaluate(_SAID) if "clock face" in words)


def minutes(clock: str) -> int:
    hours, past = clock.split(":")
    return int(hours) % 12 * 60 + int(past)


def test_what_is_chosen_is_remembered_here_and_in_the_address(
    page: Page, context: BrowserContext, served: tuple[str, Path], chromium: Browser
) -> None:
    for words in ("Centimetres", "Mirrored", "Night", "Larger"):
        choose(page, words)
    expect(page).to_have_url(re.compile(r"\?units=cm&side=turned$"))
    assert context.cookies() == []
    page.goto(served[0] + "settings/index.html")
    checked = page.evaluate("[...document.querySelectorAll(':checked')].map(one => one.value)")
    assert checked == ["turned", "cm", "night", "larger"]
    assert page.evaluate("getComputedStyle(document.documentElement).backgroundColor") == "rgb(19, 22, 21)"
    another = chromium.new_context().new_page()
    another.goto(served[0] + LESSON + "?units=cm&side=turned")
    assert another.evaluate("document.documentElement.matches('[data-units=cm][data-turned]')")
    assert another.evaluate("localStorage.length") == 0, "a link shows a page so, and is not remembered"
    another.context.close()


def test_it_is_shown_so_from_the_first_picture_on(page: Page, served: tuple[str, Path]) -> None:
    """By a script in the head before the style sheet: when the body begins the choice has been made."""
    choose(page, "Night")
    page.add_init_script(
        "new MutationObserver((_, seen) => { if (!document.body) return; seen.disconnect();"
        "window.first = document.documentElement.dataset.light; })"
        ".observe(document, {childList: true, subtree: true})"
    )
    page.reload()
    assert page.evaluate("window.first") == "night"


def test_the_tray_is_closed_by_a_key_and_its_controls_are_accessible(
    page: Page, served: tuple[str, Path]
) -> None:
    assert broken_rules(page, page.url) == []
    page.locator("form.settings input").first.focus()
    page.keyboard.press("Escape")
    tray = page.locator("details.tray").first
    expect(tray.locator("summary")).to_be_focused()
    expect(tray).to_have_js_property("open", False)
    page.goto(served[0] + "settings/index.html")
    assert broken_rules(page, page.url) == []


@pytest.mark.parametrize("width", [320, 412, 1440])
def test_the_largest_text_scrolls_no_page_sideways(page: Page, served: tuple[str, Path], width: int) -> None:
    choose(page, "Largest")
    page.set_viewport_size({"width": width, "height": 800})
    for path in (LESSON, "index.html", "settings/index.html"):
        page.goto(served[0] + path)
        assert page.evaluate("document.documentElement.scrollWidth") <= width, path


def test_without_scripts_nothing_is_offered(chromium: Browser, served: tuple[str, Path]) -> None:
    context = chromium.new_context(java_script_enabled=False)
    page = context.new_page()
    page.goto(served[0] + LESSON)
    assert not page.locator("details.tray").is_visible()
    page.goto(served[0] + "settings/index.html")
    assert not page.locator("form.settings").is_visible()
    assert page.get_by_text("need JavaScript").is_visible()
    context.close()
