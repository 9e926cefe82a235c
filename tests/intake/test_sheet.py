"""The sheet around an instant, of a card that may hold mistakes."""

from __future__ import annotations

from pathlib import Path

import pytest

from lessonpress.intake.sheet import sheet_around
from lessonpress.intake.start import start_site
from lessonpress.records.fault import UsageError

CARD = "clips/shingle-face-on/clip.yaml"


def test_an_event_whose_mistake_the_card_has_is_refused_and_a_frame_is_shown(
    tmp_path: Path,
) -> None:
    root = tmp_path / "notebook"
    start_site(root)
    text = (root / CARD).read_text(encoding="utf-8")
    (root / CARD).write_text(text.replace("top: 57", "top: 570"), encoding="utf-8")
    with pytest.raises(UsageError, match=r"the event `top` has a mistake on the card"):
        sheet_around(root, "shingle-face-on", "top")
    assert 57 in sheet_around(root, "shingle-face-on", "57")[1]
