"""Placings saved into a file that its author writes too."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest
from starlette.testclient import TestClient

from lessonpress.desk.files.clicks import placing_of
from lessonpress.desk.files.filesave import save
from lessonpress.desk.files.marksfile import MarksCodec
from lessonpress.desk.http.requests import MarkEdit
from lessonpress.desk.http.responses import RequestError

HAND = """\
# Placed on a grey morning; the wrist is a guess.
lead-wrist:          # under the glove
  30: [201.50, 118.25]   # sure of this one
  12: [199.0, 120.0]     # out of order, and meant to be

# the buckle, not the belt
navel: {12: [320.2, 201.0], 30: [318.1, 202.4, 0.8]}
"""
MARKS = "/api/clips/dune-face-on/marks"


@pytest.fixture
def place(site: Path) -> Path:
    file = site / "clips" / "dune-face-on" / "marks.yaml"
    file.write_text(HAND, encoding="utf-8")
    return file


def test_an_edit_is_saved_and_its_reverse_undoes_it_to_the_byte(author: TestClient, place: Path) -> None:
    edit = {"mark": "lead-wrist", "frame": 12, "was": [199.0, 120.0], "to": [200.25, 121.0, 0.7]}
    saved = author.post(MARKS, json={"edits": [edit]}).json()
    assert "  12: [200.25, 121.0, 0.7]     # out of order, and meant to be\n" in place.read_text(
        encoding="utf-8"
    )
    back = [{**one, "was": one["to"], "to": one["was"]} for one in saved["edits"]]
    assert author.post(MARKS, json={"edits": back, "version": saved["version"]}).json()["merged"] is False
    assert place.read_text(encoding="utf-8") == HAND


def test_a_hundred_saves_keep_comments_order_and_numbers(author: TestClient, place: Path) -> None:
    was: list[float] | None = None
    for number in range(100):
        to = [100.0 + number, 50.5]
        edit = {"mark": "navel", "frame": 21, "was": was, "to": to}
        assert author.post(MARKS, json={"edits": [edit]}).status_code == 200
        was = to
    author.post(MARKS, json={"edits": [{"mark": "navel", "frame": 21, "was": was, "to": None}]})
    assert place.read_text(encoding="utf-8") == HAND


def test_marks_are_listed_in_the_files_order(author: TestClient, place: Path) -> None:
    told = author.get(MARKS).json()
    assert list(told["marks"]) == ["lead-wrist", "navel"]
    assert told["marks"]["navel"] == {"12": [320.2, 201.0], "30": [318.1, 202.4, 0.8]}


def test_line_endings_and_the_byte_order_mark_stay_as_they_were(author: TestClient, place: Path) -> None:
    windows = b"\xef\xbb\xbf" + HAND.replace("\n", "\r\n").encode()
    place.write_bytes(windows)
    edit = {"mark": "navel", "frame": 12, "was": [320.2, 201.0], "to": [321.5, 201.0]}
    assert author.post(MARKS, json={"edits": [edit]}).status_code == 200
    assert place.read_bytes() == windows.replace(b"320.2", b"321.5")


def test_a_change_elsewhere_in_the_file_is_kept(author: TestClient, place: Path) -> None:
    version = author.get(MARKS).json()["version"]
    place.write_text(HAND.replace("201.50", "222.25") + "# a last word\n", encoding="utf-8")
    edit = {"mark": "navel", "frame": 30, "was": [318.1, 202.4, 0.8], "to": [318.0, 202.0]}
    saved = author.post(MARKS, json={"edits": [edit], "version": version})
    assert saved.json()["merged"] is True
    text = place.read_text(encoding="utf-8")
    assert "30: [222.25, 118.25]   # sure of this one" in text and "# a last word" in text
    assert "30: [318.0, 202.0]}" in text


def test_a_change_at_the_same_place_is_asked_about_and_never_overwritten(
    author: TestClient, place: Path
) -> None:
    changed = HAND.replace("199.0, 120.0", "150.0, 90.0")
    place.write_text(changed, encoding="utf-8")
    edits = [
        {"mark": "navel", "frame": 40, "was": None, "to": [1.0, 1.0]},
        {"mark": "lead-wrist", "frame": 12, "was": [199.0, 120.0], "to": [200.0, 121.0]},
    ]
    asked = author.post(MARKS, json={"edits": edits})
    assert asked.status_code == 409
    assert asked.json()["collisions"] == [{**edits[1], "disk": [150.0, 90.0]}]
    assert place.read_text(encoding="utf-8") == changed
    assert author.post(MARKS, json={"edits": edits, "anyway": True}).status_code == 200
    assert "12: [200.0, 121.0]" in place.read_text(encoding="utf-8")


def test_two_who_did_the_same_do_not_collide(author: TestClient, place: Path) -> None:
    edit = {"mark": "navel", "frame": 12, "was": [1.0, 1.0], "to": [320.2, 201.0]}
    assert author.post(MARKS, json={"edits": [edit]}).status_code == 200
    assert place.read_text(encoding="utf-8") == HAND


def test_a_file_with_mistakes_is_not_written_over(author: TestClient, place: Path) -> None:
    broken = HAND + "c7: [not, finished\n"
    place.write_text(broken, encoding="utf-8")
    answer = author.post(MARKS, json={"edits": [{"mark": "navel", "frame": 1, "was": None, "to": [1, 2]}]})
    assert answer.status_code == 422 and answer.json()["problems"][0]["path"].endswith("marks.yaml")
    assert place.read_text(encoding="utf-8") == broken


@pytest.mark.parametrize(
    "edit",
    [
        {"mark": "Navel", "frame": 1, "was": None, "to": [1, 2]},
        {"mark": "navel: {}\nx", "frame": 1, "was": None, "to": [1, 2]},
        {"mark": "navel", "frame": -1, "was": None, "to": [1, 2]},
        {"mark": "navel", "frame": 1.5, "was": None, "to": [1, 2]},
        {"mark": "navel", "frame": 1, "was": None, "to": [1]},
        {"mark": "navel", "frame": 1, "was": None, "to": [-1, 2]},
        {"mark": "navel", "frame": 1, "was": None, "to": [1, 2, 0]},
        {"mark": "navel", "frame": 1, "was": None, "to": ["1", 2]},
        {"mark": "navel", "frame": 1, "was": None, "clicks": []},
        ["navel"],
    ],
)
def test_what_is_no_placing_is_refused(author: TestClient, place: Path, edit: object) -> None:
    assert author.post(MARKS, json={"edits": [edit]}).status_code == 400
    assert place.read_text(encoding="utf-8") == HAND


def test_many_clicks_keep_their_mean_and_the_deviation_of_one() -> None:
    """numpy's sample standard deviation (ddof 1), both axes' variances averaged."""
    clicks = np.array([[310.0, 200.0], [313.0, 202.5], [308.5, 199.0], [311.0, 203.0]])
    x, y, u = placing_of([(float(a), float(b)) for a, b in clicks])
    assert (x, y) == pytest.approx(clicks.mean(axis=0), abs=0.006)
    assert u == pytest.approx(np.sqrt(np.mean(clicks.std(axis=0, ddof=1) ** 2)), abs=0.006)


def test_clicks_that_agree_are_no_better_than_half_a_pixel_and_two_say_nothing_of_their_spread() -> None:
    assert placing_of([(10.0, 20.0)] * 5) == (10.0, 20.0, 0.5)
    assert placing_of([(10.0, 20.0), (11.0, 21.0)]) == (10.5, 20.5)


def test_edits_are_saved_together_or_not_at_all(place: Path) -> None:
    edits = [
        MarkEdit(mark="navel", frame=1, to=(1.0, 2.0)),
        MarkEdit(mark="navel", frame=12, was=(0.0, 0.0), to=(3.0, 4.0)),
    ]
    with pytest.raises(RequestError):
        save(MarksCodec(), place, edits)
    assert place.read_text(encoding="utf-8") == HAND
