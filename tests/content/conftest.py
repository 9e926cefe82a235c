"""The demo site, read and measured once."""

from __future__ import annotations

import pytest

from lessonpress.figures.plates import BoundSite
from lessonpress.press.progress import Silent
from lessonpress.press.reading import Reading, read_and_bind
from tests.studio.demo import ROOT


@pytest.fixture(scope="session")
def reading() -> Reading:
    return read_and_bind(ROOT / "content", Silent())


@pytest.fixture(scope="session")
def content(reading: Reading) -> BoundSite:
    assert reading.bound is not None
    assert reading.problems.errors == []
    return reading.bound
