"""Contrast after WCAG 2.2, computed from the style sheet's tokens, and the theme's files."""

from __future__ import annotations

import re

import pytest

from lessonpress.drawing import palette
from lessonpress.pages import Theme

THEME = Theme.named()
TOKEN = re.compile(r"--([a-z0-9-]+): (#[0-9A-F]{6})")
GROUNDS = ("paper", "sheet", "band", "stamp-wash")


def tokens(night: bool) -> dict[str, str]:
    """The colour tokens; those of the night replace those of the day."""
    style = (THEME.folder / "styles" / "tokens.css").read_text(encoding="utf-8")
    day, dark = style.split("@media (prefers-color-scheme: dark)")
    return dict(TOKEN.findall(day)) | (dict(TOKEN.findall(dark)) if night else {})


def luminance(colour: str) -> float:
    """Relative luminance. Source: WCAG 2.2, definition of relative luminance."""
    parts = [int(colour[at : at + 2], 16) / 255 for at in (1, 3, 5)]
    red, green, blue = (c / 12.92 if c <= 0.04045 else ((c + 0.055) / 1.055) ** 2.4 for c in parts)
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def contrast(one: str, other: str) -> float:
    """(L1 + 0.05) / (L2 + 0.05). Source: WCAG 2.2, definition of contrast ratio."""
    light, dark = sorted((luminance(one), luminance(other)), reverse=True)
    return (light + 0.05) / (dark + 0.05)


def test_the_contrast_formula_gives_the_published_values() -> None:
    """Source: WCAG 2.2: black on white 21 : 1, #767676 on white 4.54 (passes), #777777 4.48 (fails)."""
    assert contrast("#000000", "#FFFFFF") == pytest.approx(21)
    assert contrast("#767676", "#FFFFFF") == pytest.approx(4.54, abs=0.005)
    assert contrast("#777777", "#FFFFFF") == pytest.approx(4.48, abs=0.005)


def test_the_night_that_a_reader_chooses_is_that_of_the_device() -> None:
    style = (THEME.folder / "styles" / "tokens.css").read_text(encoding="utf-8")
    device, chosen = re.findall(r"\{\n( +--paper: #131615.*?)\n  \}", style, re.DOTALL)
    assert device == chosen


@pytest.mark.parametrize("night", [False, True])
@pytest.mark.parametrize("ink", ["ink", "ink-2", "stamp", "fault"])
def test_text_passes_4_5_to_1_on_every_ground(ink: str, night: bool) -> None:
    """WCAG 2.2, 1.4.3 Contrast (Minimum), level AA."""
    found = tokens(night)
    assert all(contrast(found[ink], found[ground]) >= 4.5 for ground in GROUNDS)


@pytest.mark.parametrize("night", [False, True])
def test_edges_of_controls_pass_3_to_1_on_every_ground(night: bool) -> None:
    """WCAG 2.2, 1.4.11 Non-text Contrast, level AA."""
    found = tokens(night)
    assert all(contrast(found["line"], found[ground]) >= 3 for ground in GROUNDS)


@pytest.mark.parametrize("night", [False, True])
def test_text_on_the_accent_and_on_tags_passes_4_5_to_1(night: bool) -> None:
    found = tokens(night)
    assert contrast(found["on-stamp"], found["stamp"]) >= 4.5
    assert contrast(found["tag-ink"], found["tag"]) >= 4.5


@pytest.mark.parametrize(
    "chip", re.findall(r"\.chip\.\w+ \{ background: (#\w{6}); color: (#\w{3});", THEME.style)
)
def test_letters_on_chips_pass_4_5_to_1(chip: tuple[str, str]) -> None:
    ground, letter = chip
    assert contrast(ground, "#" + "".join(sign * 2 for sign in letter[1:])) >= 4.5


def test_files_are_named_by_what_is_in_them() -> None:
    assert all(re.search(r"\.[0-9a-f]{10}\.(css|woff2)$", path) for path in THEME.files)
    assert THEME.style_path in THEME.files


def test_the_style_sheet_finds_its_fonts_beside_it() -> None:
    named = re.findall(r"url\(([^)]+woff2)\)", THEME.style)
    assert len(named) == 4
    assert all(f"assets/{name}" in THEME.files for name in named)


def test_an_unknown_language_is_answered_in_english() -> None:
    assert THEME.words("xx")["caution"]["title"] == "Caution"
    assert THEME.words("en-GB") == THEME.words("en")


@pytest.mark.parametrize(
    ("token", "colour"),
    [("tag", palette.PAPER), ("tag-ink", palette.INK), ("sheet", palette.GROUND), ("stamp", palette.STAMP)],
)
def test_a_drawing_that_travels_alone_has_the_theme_s_colours_by_day(token: str, colour: str) -> None:
    assert tokens(night=False)[token] == colour
