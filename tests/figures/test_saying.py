"""An author is warned of a number that says nothing, at its overlay and with what makes it so."""

from __future__ import annotations

from pathlib import Path

import pytest

from lessonpress.measure.uncertainty import measured
from tests.figures.drawn import told_of

BODY = "```frame\nat: impact\ndraw:\n  - tilt: [navel, c7]\n```"


def test_the_warning_names_the_input_that_brings_most(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setitem(measured.WHOLE, "angle", 3.0)  # degrees: less than any tilt's interval
    told = told_of(tmp_path, BODY).split("\n")[0]
    assert told.startswith(
        "lessons/lesson.md:9:5: warning: tilt says nothing: ± 4° is as wide as all it could be;"
    )
    assert "most of it comes from " in told
    assert told.endswith(" %); make that surer on the card or by the marks, or leave the number out")


def test_a_number_that_says_something_is_not_warned_of(tmp_path: Path) -> None:
    assert told_of(tmp_path, BODY) == ""
