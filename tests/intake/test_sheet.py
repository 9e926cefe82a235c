"""Sheets of a clip, of a card that may hold mistakes or obscure someone."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest
from PIL import Image

from lessonpress.cli.commands import lessonpress
from lessonpress.footage.video.contact import CELL
from lessonpress.footage.video.index import read_index
from lessonpress.intake.sheet import sheet_of
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
        sheet_of(root, "shingle-face-on", "top")
    assert 57 in sheet_of(root, "shingle-face-on", "57").frames


def test_what_the_card_obscures_is_blurred_where_it_is_placed_and_said_where_not(tmp_path: Path) -> None:
    """The corner of a board on the wall: in its cell no difference between neighbours is left as it was."""
    root = tmp_path / "notebook"
    start_site(root)
    before = np.asarray(Image.open(sheet_of(root, "shingle-face-on", "6").path).convert("L"), float)
    card, marks = root / CARD, root / "clips/shingle-face-on/marks.yaml"
    text = card.read_text().replace("people: []", "people: []\nobscure: [{mark: board, across: 90 px}]")
    card.write_text(text.replace("room: [", "room: [board, "))
    marks.write_text(f"{marks.read_text()}board:\n  6: [434, 199]\n")
    made = sheet_of(root, "shingle-face-on", "6")
    after = np.asarray(Image.open(made.path).convert("L"), float)
    assert made.open == [frame for frame in made.frames if frame != 6]
    rows, columns = np.nonzero(before != after)
    left, top, right, bottom = columns.min(), rows.min(), columns.max() + 1, rows.max() + 1
    size = read_index(root / "clips/shingle-face-on/shingle-face-on.mp4").size
    wide = 90 * CELL / max(size)
    assert all(wide <= side < 1.5 * wide for side in (right - left, bottom - top))  # and by what it is off
    middle = slice(top + 8, bottom - 8), slice(left + 8, right - 8)
    steps = [np.abs(np.diff(sheet[middle], axis=1)).max() for sheet in (before, after)]
    assert steps[1] < steps[0] / 3


def test_the_sheet_of_ingest_shows_everybody_says_so_and_is_drawn_again_blurred(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    root = tmp_path / "notebook"
    start_site(root)
    video = root / "clips/shingle-face-on/shingle-face-on.mp4"
    lessonpress(["ingest", str(video), "--site", str(root), "--name", "again"], standalone_mode=False)
    told = capsys.readouterr().err
    assert "Everybody can be seen on it" in told and "`lessonpress sheet again`" in told
    sheet = root / "build/sheets/again.png"
    before = np.asarray(Image.open(sheet).convert("L"))
    card, marks = root / "clips/again/clip.yaml", root / "clips/again/marks.yaml"
    card.write_text(card.read_text() + "\nroom: [board]\nobscure: [{mark: board, across: 90 px}]\n")
    marks.write_text("board:\n  0: [434, 199]\n")
    lessonpress(["sheet", "again", "--site", str(root)], standalone_mode=False)
    after = np.asarray(Image.open(sheet).convert("L"))
    assert after.shape == before.shape and (after != before).any()
    assert "what the card obscures can be seen" in capsys.readouterr().err
