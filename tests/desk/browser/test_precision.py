"""A mark lands where it was clicked: what is seen at a point of the screen is what is kept.

The place clicked is found in a photograph of the screen, the truth is where the disk was drawn into the
video; nothing of the desk's own arithmetic is asked.
"""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from fractions import Fraction
from io import BytesIO
from pathlib import Path

import numpy as np
import pytest
import yaml
from numpy.typing import NDArray
from PIL import Image
from playwright.sync_api import Page

from tests.desk.browser.conftest import Author, bare_site, running
from tests.studio.film import encode

STORED = (480, 360)  # px as they lie in the file
DISK = (171.3, 118.6)  # its middle in the stored picture
RADIUS = 7.0
NEAREST = 0.5  # px of the picture that a mark may lie off

CARD = """\
video: pattern.mp4
view: face-on
hand: right
source: {kind: own, credit: Drawn for tests}
people: []
"""
SHAPES: dict[str, tuple[int, Fraction | None]] = {
    "as it lies": (0, None),
    "held upright": (90, None),
    "wide pixels": (0, Fraction(4, 3)),
    "narrow pixels": (0, Fraction(3, 4)),
    "upside down, wide pixels": (180, Fraction(4, 3)),
}


def _picture() -> NDArray[np.uint8]:
    """A bright disk on a dark ground, its edge drawn by how much of each pixel it covers."""
    x, y = np.meshgrid((np.arange(STORED[0] * 8) + 0.5) / 8, (np.arange(STORED[1] * 8) + 0.5) / 8)
    inside = (np.hypot(x - DISK[0], y - DISK[1]) <= RADIUS).astype(float)
    cover = inside.reshape(STORED[1], 8, STORED[0], 8).mean(axis=(1, 3))
    return np.repeat((20 + 215 * cover).astype(np.uint8)[..., None], 3, axis=2)


def _truth(rotation: int, aspect: Fraction | None, size: tuple[int, int]) -> tuple[float, float]:
    """Where the disk's middle is in the upright picture of `size` px."""
    x, y = DISK[0] / STORED[0], DISK[1] / STORED[1]
    turned = {0: (x, y), 90: (1 - y, x), 180: (1 - x, 1 - y)}[rotation]
    return turned[0] * size[0], turned[1] * size[1]


def _seen(page: Page) -> tuple[float, float]:
    """The middle of the disk on the screen, from a photograph of the frame."""
    hide = "(all) => all.forEach((one) => { one.style.visibility = 'hidden'; })"
    page.locator(".signs, .slides").evaluate_all(hide)  # the picture alone
    frame = page.locator("#frame")
    box = frame.bounding_box()
    assert box
    shot = np.asarray(Image.open(BytesIO(frame.screenshot())).convert("RGB")).astype(float)
    grey = shot.mean(axis=2)
    grey[:4], grey[-4:], grey[:, :4], grey[:, -4:] = 0, 0, 0, 0  # the frame's outline
    weight = np.clip(grey - 60, 0, None)
    rows, columns = np.indices(weight.shape)
    middle = [float((weight * (at + 0.5)).sum() / weight.sum()) for at in (columns, rows)]
    return box["x"] + middle[0], box["y"] + middle[1]


@pytest.fixture(scope="module")
def patterns(tmp_path_factory: pytest.TempPathFactory) -> Iterator[tuple[Path, str]]:
    """A site with a clip for each shape, and the address of a desk on it."""
    site = bare_site(tmp_path_factory.mktemp("patterns") / "notebook")
    for shape, (rotation, aspect) in SHAPES.items():
        folder = site / "clips" / _clip(shape)
        folder.mkdir()
        encode(folder / "pattern.mp4", [_picture()] * 3, rotation=rotation, pixel_aspect=aspect)
        (folder / "clip.yaml").write_text(CARD, encoding="utf-8")
    with running(site) as address:
        yield site, address


def _clip(shape: str) -> str:
    return shape.replace(",", "").replace(" ", "-")


@pytest.mark.parametrize("shape", SHAPES)
def test_a_mark_lands_within_half_a_px_of_where_it_was_clicked_at_zoom_1_4_and_8(
    shape: str, patterns: tuple[Path, str], desk_page: Page
) -> None:
    site, address = patterns
    marks = site / "clips" / _clip(shape) / "marks.yaml"
    desk_page.emulate_media(color_scheme="dark")
    desk_page.goto(address)
    author = Author(desk_page)
    author.open_clip(_clip(shape))
    size = tuple(author.picture.evaluate("(one) => [one.width, one.height]"))
    truth = _truth(*SHAPES[shape], size)
    author.key("t")  # the tester is put away: it would show the disk twice
    author.settled()
    for zoom in (1, 4, 8):
        author.take("navel")  # no lesson wants a mark here, so none is in hand by itself
        _zoom(author, truth, zoom)
        seen = _seen(desk_page)
        with _saved(desk_page):
            desk_page.mouse.click(*seen)
        kept = yaml.safe_load(marks.read_text(encoding="utf-8"))["navel"][0]
        off = np.hypot(kept[0] - truth[0], kept[1] - truth[1])
        assert off <= NEAREST, f"{shape}, zoom {zoom}: {off:.2f} px off"
        author.take("navel")
        with _saved(desk_page):
            author.key("Delete")
        desk_page.locator(".in-hand").get_by_text("not placed here").wait_for()
    assert author.faults == []


@contextmanager
def _saved(page: Page) -> Iterator[None]:
    """Until the desk has answered that the marks are in their file; the page looks them through later."""
    with page.expect_response(
        lambda one: one.url.endswith("/marks") and one.request.method == "POST"
    ) as told:
        yield
    assert told.value.ok


def _zoom(author: Author, about: tuple[float, float], zoom: int) -> None:
    """Turns the wheel over the disk until a px of the picture is `zoom` px of the screen."""
    page = author.page
    for _ in range(30):
        box = author.picture.bounding_box()
        assert box
        now = box["width"] / author.picture.evaluate("(one) => one.width")
        if abs(now / zoom - 1) < 0.002:
            break
        page.mouse.move(*author.on_screen(*about))
        page.mouse.wheel(0, -np.log(zoom / now) / 0.0018)
        page.wait_for_function(
            "(was) => document.querySelector('canvas.picture').getBoundingClientRect().width !== was",
            arg=box["width"],
        )
    else:
        raise AssertionError(f"zoom {zoom} was not reached")
    page.mouse.move(2, 2)
