"""Every drawing of these tests is validated against SVG 1.1 while it is made."""

from __future__ import annotations

from collections.abc import Iterator

import pytest

from lessonpress.drawing import paper


@pytest.fixture(autouse=True)
def checked() -> Iterator[None]:
    paper.CHECKED = True
    yield
    paper.CHECKED = False
