"""The functions of the desk's JavaScript: every test of this folder's `*.test.js`, run in the browser.

A test is a function that such a module exports; it throws where something is not so.
"""

from __future__ import annotations

import mimetypes
import random
import re
from collections.abc import Iterator
from pathlib import Path

import numpy as np
import pytest
from playwright.sync_api import Browser, Page, Route
from uncertainties import ufloat

from lessonpress.desk.files.clicks import placing_of
from lessonpress.desk.http.endpoints.pages import PAGES
from lessonpress.measure import LEAST_CLICK_U
from lessonpress.measure.formulas.geometry import mean

HERE = Path(__file__).parent
HOME = "http://desk.example/"
FOLDERS = {"pages": PAGES, "tests": HERE}


@pytest.fixture(scope="module")
def modules(chromium: Browser) -> Iterator[Page]:
    """A page that can import the desk's modules as /pages/NAME.js, and tests as /tests/NAME.test.js."""
    context = chromium.new_context()
    page = context.new_page()
    page.route("**/*", _file)
    page.goto(HOME)
    yield page
    context.close()


def _file(route: Route) -> None:
    folder, _, name = route.request.url.removeprefix(HOME).partition("/")
    if folder not in FOLDERS:
        route.fulfill(body="<!doctype html><main id=desk></main>", content_type="text/html")
        return
    kind = mimetypes.guess_type(name)[0] or "text/plain"
    route.fulfill(body=(FOLDERS[folder] / name).read_text(encoding="utf-8"), content_type=kind)


def cases() -> Iterator[object]:
    for path in sorted(HERE.glob("*.test.js")):
        for name in re.findall(r"^export (?:async )?function (\w+)", path.read_text("utf-8"), re.M):
            yield pytest.param(path.name, name, id=f"{path.name}: {name.replace('_', ' ')}")


@pytest.mark.parametrize(("module", "name"), list(cases()))
def test_it_is_so(modules: Page, module: str, name: str) -> None:
    modules.evaluate(
        "async ([module, name]) => { await (await import(`/tests/${module}`))[name](); }", [module, name]
    )


def test_a_placing_of_clicks_is_the_servers(modules: Page) -> None:
    """Over many clicks; the two languages round ties differently, by a hundredth of a px."""
    draw = random.Random(20261128)
    clicked = [
        [[draw.uniform(0, 2000), draw.uniform(0, 1200)]]
        + [[draw.gauss(700, wide), draw.gauss(400, wide)] for _ in range(draw.randrange(12))]
        for wide in (0.05, 0.5, 2.0, 40.0)
        for _ in range(250)
    ]
    placed = modules.evaluate(
        """async ([clicked, least]) => {
            const { placing } = await import("/pages/clicks.js");
            return clicked.map((clicks) => placing(clicks, least));
        }""",
        [clicked, LEAST_CLICK_U],
    )
    for clicks, here in zip(clicked, placed, strict=True):
        there = placing_of([(x, y) for x, y in clicks])
        assert here == pytest.approx(there, abs=0.0101), clicks


def test_a_middle_is_where_measuring_puts_it(modules: Page) -> None:
    """Its place beside the formula of measuring, its u beside first order by the package uncertainties."""
    draw = random.Random(20261129)
    clips = [
        {
            f"mark {n}": [draw.uniform(0, 2000), draw.uniform(0, 1200), draw.uniform(0.5, 9)]
            for n in range(size)
        }
        for size in (1, 2, 3, 7)
        for _ in range(50)
    ]
    placed = modules.evaluate(
        """async (clips) => {
            const { placeOf } = await import("/pages/marks.js");
            const { state } = await import("/pages/state.js");
            return clips.map((marks) => {
                const names = Object.keys(marks);
                state.clip = { default_u: 1.5, room: [], middles: { middle: names } };
                state.byHand = Object.fromEntries(names.map((name) => [name, { 0: marks[name] }]));
                state.tracks = state.tentative = {};
                return placeOf("middle", 0);
            });
        }""",
        clips,
    )
    for marks, here in zip(clips, placed, strict=True):
        x, y = mean([(np.asarray(x), np.asarray(y)) for x, y, _ in marks.values()])
        across = sum(ufloat(x, u) for x, _, u in marks.values()) / len(marks)
        assert (here["x"], here["y"]) == pytest.approx((float(x), float(y)))
        assert here["u"] == pytest.approx(across.std_dev)
