"""What an author finds while a lesson is written: names offered, slips underlined, the proof beside it."""

from __future__ import annotations

import re
from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import FrameLocator, Locator, Page, expect

from tests.browser.axe import WCAG, broken_rules
from tests.desk.browser.conftest import Author

# whether these words of the text are selected
SELECTED = """(words) => {
    const one = document.querySelector("#text");
    return one.value.slice(one.selectionStart, one.selectionEnd) === words;
}"""
# the proof with its pictures: until then it may be scrolled to where it was
LOADED = "() => document.querySelector('iframe.proof').contentDocument?.readyState === 'complete'"
# how high the field's text is, and the copy of it under it that is underlined: equal where lines break alike
HEIGHTS = """(one) => [one.scrollHeight, document.querySelector(".words").offsetHeight]"""


@pytest.fixture
def text(author: Author, own_site: Path) -> Iterator[Locator]:
    """The text of a lesson that is open, with its proof beside it."""
    author.page.goto(f"{author.home}#/lesson/pelvis")
    _proof(author.page).locator("h1", has_text="The pelvis travels").wait_for()
    author.page.wait_for_function(LOADED)
    yield author.page.locator("#text")
    author.settled()
    author.faults.clear()  # the proof's sandbox reports the scripts that it keeps from running


def _proof(page: Page) -> FrameLocator:
    return page.frame_locator("iframe.proof")


def _cursor_before(text: Locator, words: str) -> None:
    text.evaluate(
        """(one, words) => {
            const at = one.value.indexOf(words);
            one.focus();
            one.setSelectionRange(at, at);
        }""",
        words,
    )


def _reads(text: Locator, words: str) -> None:
    expect(text).to_have_value(re.compile(re.escape(words)))


def _offers(author: Author) -> Locator:
    return author.page.locator("#offers:not([hidden])")


def test_a_brace_is_completed_by_keys_with_the_number_that_it_prints(author: Author, text: Locator) -> None:
    keyboard = author.page.keyboard
    _cursor_before(text, "By the top")
    keyboard.type("It leans {le")
    told = author.page.locator("#offers-told", has_text="three choices: numbers of this lesson")
    told.wait_for(state="attached")
    first = _offers(author).get_by_role("option", selected=True)
    assert "lean.setup" in first.inner_text() and "°" in first.inner_text()
    assert text.get_attribute("aria-activedescendant") == first.get_attribute("id")
    keyboard.press("ArrowDown")
    _offers(author).get_by_role("option", name="lean.top", selected=True).wait_for()
    assert broken_rules(author.page, "offers", rules=WCAG) == []
    keyboard.press("Enter")
    _offers(author).wait_for(state="detached")
    _reads(text, "It leans {lean.top}By the top")
    keyboard.press("Control+z")  # the browser's own undo
    _reads(text, "It leans {leBy the top")


def test_escape_and_tab_leave_the_list_and_neither_holds_the_keyboard(author: Author, text: Locator) -> None:
    keyboard = author.page.keyboard
    _cursor_before(text, "By the top")
    keyboard.type("{na")
    _offers(author).wait_for()
    keyboard.press("Escape")
    _offers(author).wait_for(state="detached")
    expect(text).to_be_focused()
    keyboard.press("Control+Space")
    _offers(author).wait_for()
    keyboard.press("Tab")
    _offers(author).wait_for(state="detached")
    expect(text).not_to_be_focused()


def test_a_mark_of_a_figure_is_taken_by_a_click(author: Author, text: Locator) -> None:
    _cursor_before(text, "  - shift: navel")
    author.page.keyboard.type("  - tilt: [nav")
    marks = author.page.locator("#offers[aria-label=marks]")
    marks.get_by_role("option", name="navel").click()
    _reads(text, "  - tilt: [navel  - shift: navel")
    expect(text).to_be_focused()


def test_slips_are_underlined_where_they_stand_with_the_way_out(author: Author, text: Locator) -> None:
    page = author.page
    before = text.input_value()
    text.fill(before.replace("{navel-back}", "{navel-bakc}").replace("Warm up", f"{'Warm ' * 40}up"))
    slip = page.locator(".slip-words.error")
    slip.wait_for()
    assert slip.inner_text() == "{navel-bakc}"
    field, copy = text.evaluate(HEIGHTS)
    assert field == copy
    text.evaluate("(one) => one.setSelectionRange(0, 0)")
    page.keyboard.press("F8")
    page.locator("#faults [aria-current=true]", has_text="navel-bakc").wait_for()
    page.wait_for_function(SELECTED, arg="{navel-bakc}")
    expect(page.locator("#told")).to_contain_text("There is no measure")
    author.click(page.get_by_role("button", name="Write {navel-back} instead of {navel-bakc}"))
    slip.wait_for(state="detached")
    _reads(text, "{navel-back}")


def test_the_cursor_in_a_block_shows_its_plate_and_a_click_on_the_proof_goes_to_its_words(
    author: Author, text: Locator
) -> None:
    proof = _proof(author.page)
    _cursor_before(text, "frames: [setup")
    author.page.keyboard.press("ArrowRight")
    proof.locator("#plate-sequence[data-written]").wait_for()
    expect(proof.locator("#plate-sequence")).to_be_in_viewport()
    proof.locator("p", has_text="At setup three lines").click(position={"x": 4, "y": 8})
    author.page.wait_for_function(SELECTED, arg="At")
    proof.locator("#plate-top .plate-head").click()
    author.page.wait_for_function(SELECTED, arg="```frame")
    expect(author.page.locator(".line-no")).to_contain_text("line 20")


def test_keys_go_from_the_text_to_its_part_of_the_proof_and_back(author: Author, text: Locator) -> None:
    page, proof = author.page, _proof(author.page)
    _cursor_before(text, "three lines")
    author.key("F6")
    part = proof.locator("p:focus")
    assert part.inner_text().startswith("At setup three lines")
    page.locator("#told", has_text="F6 back to the text").wait_for()
    author.key("ArrowDown")
    assert proof.locator("*:focus").evaluate("(one) => one.matches('figure, figure *, p, h2, tr')")
    author.key("ArrowUp")
    author.key("F6")
    assert text.evaluate("(one) => one === document.activeElement && one.selectionStart") == text.evaluate(
        "(one) => one.value.indexOf('three lines')"
    )
    assert proof.locator("[tabindex='-1']:focus, p[tabindex]").count() == 0  # the page is as it was pressed
    _cursor_before(text, "frames: [setup")
    author.key("F6")
    assert proof.locator("*:focus").get_attribute("id") == "plate-sequence"
    _cursor_before(text, "three lines")
    author.key("F6")
    author.key("Enter")
    page.wait_for_function(SELECTED, arg="At")
    author.key("F6")
    author.key("Escape")
    assert text.evaluate("(one) => one === document.activeElement")


def test_while_there_are_faults_the_plate_is_drawn_from_what_is_typed(author: Author, text: Locator) -> None:
    page = author.page
    text.fill(
        text.input_value().replace("{navel-back}", "{navel-bakc}").replace("frames: [setup, ", "frames: [")
    )
    _proof(page).get_by_text("navel-bakc").first.wait_for()
    page.wait_for_function(LOADED)
    _cursor_before(text, "frames: [")
    page.keyboard.press("ArrowRight")
    drawn = page.locator(".written-plate .cut")
    drawn.first.wait_for()
    expect(drawn).to_have_count(2)
    page.locator(".written-plate li", has_text="Tilt").first.locator(".n").wait_for()
    author.sees_over(".written-plate .cut", ".written-plate .cut svg.overlay", 1)
    assert broken_rules(page, "a written plate", rules=WCAG) == []
    page.keyboard.press("Control+End")
    page.keyboard.type("\n\n```loop\nfrom: top\nto: impact\ndraw:\n  - line: [navel, c7]\n```\n")
    _cursor_before(text, "from: top")
    page.keyboard.press("ArrowRight")
    page.locator(".written-plate p", has_text="A loop of eight pictures").wait_for()
    _proof(page).locator("#line-20 code").click()
    expect(page.locator(".line-no")).to_contain_text("line 20")
    _cursor_before(text, "At setup")
    page.keyboard.press("ArrowRight")
    page.locator(".written-plate").wait_for(state="hidden")


def test_on_a_phone_the_proof_is_below_the_text_and_nothing_runs_over_the_edge(
    author: Author, text: Locator
) -> None:
    author.page.set_viewport_size({"width": 390, "height": 844})
    _cursor_before(text, "By the top")
    author.page.keyboard.type("{")
    box, window = _offers(author).bounding_box(), text.bounding_box()
    assert box and window and box["x"] >= window["x"]
    assert box["x"] + box["width"] <= window["x"] + window["width"]
    wide, inner = author.page.evaluate("[document.documentElement.scrollWidth, innerWidth]")
    assert wide <= inner
