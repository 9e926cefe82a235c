"""The demo site, read and measured once."""

from __future__ import annotations

from dataclasses import replace

import pytest

from lessonpress.figures.plates import BoundSite
from lessonpress.manuscript import read_site
from tests.reading import Reading, read_and_bind
from tests.studio.demo import ROOT


@pytest.fixture(scope="session")
def reading() -> Reading:
    return read_and_bind(ROOT / "content")


@pytest.fixture(scope="session")
def content(reading: Reading) -> BoundSite:
    """With all that its author wrote; steps of the press see of that only what they ask for."""
    assert reading.bound is not None
    assert reading.problems.errors == []
    site, _ = read_site(reading.bound.site.root)
    assert site is not None
    return replace(reading.bound, site=site)
