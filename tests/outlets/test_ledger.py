"""A lesson's ledger leaves the site as data: JSON and CSV with the same names and the same numbers."""

from __future__ import annotations

import csv
import io
import json
from dataclasses import replace

import pytest

from lessonpress.outlets.ledger import COLUMNS, ledger_csv, ledger_json
from lessonpress.records.measure import Measure

SHIFT = Measure(
    id="navel-back",
    kind="shift",
    dimension="length",
    figure="top",
    letter="D",
    clips=("dune-face-on",),
    value=-4.0217,
    uncertainty=0.55,
    k=2.0,
    low=None,
    high=None,
    unit="in",
    axis="level",
    way="away from the target",
    plane="subject plane, face-on",
    frames=(12, 192),
    since="setup",
    marks=("navel",),
    assumed=("one plumb line: pitch 0°, u 3°",),
    expect=None,
    answer=None,
    refused=None,
    way_out=None,
    words="shift of the navel since setup",
    budget=None,
)
TITLES = {"dune-face-on": "Dune, face-on, 7-iron"}
REFUSED = replace(
    SHIFT,
    id="head-back",
    value=None,
    uncertainty=None,
    k=None,
    refused="no known length, so nothing says how large a px is",
    way_out="add a scale, and the camera’s distance, to the card",
)


def test_json_holds_each_measure_signed_and_unrounded() -> None:
    ledger = json.loads(ledger_json("pelvis", [SHIFT], TITLES))
    assert ledger["lesson"] == "pelvis"
    (row,) = ledger["measures"]
    assert (row["value"], row["uncertainty"], row["unit"]) == (-4.0217, 0.55, "in")
    assert row["frames"] == [12, 192]
    assert row["clips"] == ["dune-face-on"]
    assert row["way"] == "away from the target"


def test_json_says_what_readers_call_the_clips_that_its_rows_name() -> None:
    ledger = json.loads(ledger_json("pelvis", [SHIFT], TITLES))
    assert [ledger["titles"][clip] for clip in ledger["measures"][0]["clips"]] == ["Dune, face-on, 7-iron"]


def test_a_refused_measure_has_no_value_and_says_why() -> None:
    (row,) = json.loads(ledger_json("pelvis", [REFUSED], TITLES))["measures"]
    assert row["value"] is None
    assert row["uncertainty"] is None
    assert row["refused"].startswith("no known length")
    assert row["way_out"].startswith("add a scale")
    (cells,) = csv.DictReader(io.StringIO(ledger_csv([REFUSED]).decode()))
    assert (cells["value"], cells["uncertainty"]) == ("", "")


def test_a_number_that_is_none_never_reaches_the_data() -> None:
    """RFC 8259, section 6: infinity and NaN are not permitted."""
    with pytest.raises(ValueError, match="JSON"):
        ledger_json("pelvis", [replace(SHIFT, value=float("nan"))], TITLES)


def test_csv_has_the_names_of_json_and_a_row_a_measure() -> None:
    head, *rows = csv.reader(io.StringIO(ledger_csv([SHIFT, REFUSED]).decode()))
    (named, _) = json.loads(ledger_json("pelvis", [SHIFT, REFUSED], TITLES))["measures"]
    assert head == list(named) == list(COLUMNS)
    assert len(rows) == 2


def test_csv_joins_lists_by_spaces_and_writes_a_dot() -> None:
    (cells,) = csv.DictReader(io.StringIO(ledger_csv([SHIFT]).decode()))
    assert cells["frames"] == "12 192"
    assert cells["value"] == "-4.0217"
    assert cells["assumed"] == "one plumb line: pitch 0°, u 3°"


def test_a_lesson_without_measures_has_an_empty_ledger() -> None:
    assert json.loads(ledger_json("words-only", [], {})) == {
        "lesson": "words-only",
        "titles": {},
        "measures": [],
    }
    assert ledger_csv([]).decode() == ",".join(COLUMNS) + "\n"
