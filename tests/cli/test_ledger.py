"""`measure` and `explain` print what the pages print, and the data that the pages link."""

from __future__ import annotations

import csv
import io
import json
import re
from pathlib import Path

import pytest

from tests.cli.conftest import Ask
from tests.conftest import Rewrite


@pytest.mark.parametrize("name", ["pelvis", "pelvis.md", "lessons/pelvis.md"])
def test_measure_prints_a_row_a_measure(ask: Ask, drawn_site: Path, name: str) -> None:
    code, out, err = ask("measure", name, "--site", drawn_site)
    assert (code, err) == (0, "")
    table, times = out.split("\n\n")
    head, *rows = table.splitlines()
    assert head.split() == ["id", "measure", "value", "±", "unit", "way", "plane", "frames"]
    ids = ["navel-back", "lean.setup", "lean.top", "lean.impact"]
    assert [row.split()[1] for row in rows] == ids
    assert re.search(r"navel since setup +4\.\d +0\.\d +in +away from the target", rows[0])
    assert re.match(r"dune-face-on: Setup 0\.100 s ± 0\.019, ", times)
    assert times.endswith("the camera stood still, by the card\n")


def test_json_and_csv_are_the_files_that_a_press_puts_out(
    ask: Ask, drawn_site: Path, pressed_site: Path
) -> None:
    for form in ("json", "csv"):
        code, out, err = ask("measure", "pelvis", f"--{form}", "--site", drawn_site)
        assert (code, err) == (0, "")
        pressed = (pressed_site / "lessons" / "pelvis" / f"measures.{form}").read_text(encoding="utf-8")
        if form == "json":  # which also says, to the author alone, what would narrow a number
            told, pressed = (json.loads(text) for text in (out, pressed))
            assert any(row["narrower"] for row in told["measures"])
            out = {
                **told,
                "measures": [{k: v for k, v in row.items() if k != "narrower"} for row in told["measures"]],
            }
        assert out == pressed


def test_json_and_csv_hold_the_same_numbers(ask: Ask, drawn_site: Path) -> None:
    rows = json.loads(ask("measure", "kinds", "--json", "--site", drawn_site)[1])["measures"]
    cells = list(csv.DictReader(io.StringIO(ask("measure", "kinds", "--csv", "--site", drawn_site)[1])))
    assert [float(cell["value"]) for cell in cells] == [row["value"] for row in rows]
    assert [cell["way"] for cell in cells] == [row["way"] for row in rows]


def test_explain_is_a_worked_example_whose_shares_make_up_the_whole(ask: Ask, drawn_site: Path) -> None:
    code, out, err = ask("explain", "pelvis", "lean.impact", "--site", drawn_site)
    assert (code, err) == (0, "")
    assert re.search(r"29\.\d° ± 2\.\d away from the target", out)
    assert "θ = atan2(ΔX, ΔY)" in out
    assert "subject plane, face-on" in out
    shares = [float(share) for share in re.findall(r"(\d+\.\d)%", out)]
    assert sum(shares) == pytest.approx(100, abs=0.1 * len(shares))
    assert shares == sorted(shares, reverse=True)


def test_an_unknown_measure_and_an_unknown_lesson_are_answered_with_near_names(
    ask: Ask, drawn_site: Path
) -> None:
    code, out, err = ask("explain", "pelvis", "navel-bakc", "--site", drawn_site)
    assert (code, out) == (2, "")
    assert err == "lessonpress: pelvis has no measure called navel-bakc; there are: navel-back\n"
    code, _, err = ask("measure", "pelvi", "--site", drawn_site)
    assert (code, err) == (2, "lessonpress: there is no lesson called pelvi; close to it: pelvis\n")


def test_a_refused_measure_is_printed_with_its_reason_and_the_way_out(
    ask: Ask, own_site: Path, rewrite: Rewrite
) -> None:
    card = own_site / "clips" / "dune-face-on" / "clip.yaml"
    rewrite(card, "scale:\n- between: [stick-top, stick-foot]\n  length: 36 in\n  within: 0.1 in\n", "")
    rewrite(own_site / "lessons" / "kinds.md", "  size: 12 in\n", "")
    code, out, err = ask("measure", "kinds", "--site", own_site)
    assert code == 0
    assert "warning: distance is not measured" in err
    assert "(also line" in err, "the shift wants the same scale"
    (row,) = [line for line in out.splitlines() if "navel-forward" in line]
    assert "not measured: " in row
    code, out, _ = ask("explain", "kinds", "navel-forward", "--site", own_site)
    assert code == 0
    assert "not measured: " in out
    assert "way out: " in out


def test_another_lessons_mistake_does_not_hide_this_ones_numbers(
    ask: Ask, own_site: Path, rewrite: Rewrite
) -> None:
    rewrite(own_site / "lessons" / "kinds.md", "- tilt: [navel, c7]", "- tilt: [navle, c7]")
    assert ask("measure", "pelvis", "--site", own_site)[0] == 0
    code, out, err = ask("measure", "kinds", "--site", own_site)
    assert (code, out) == (1, "")
    assert "navle" in err


def test_a_lesson_that_makes_none_is_reported_by_its_mistakes(
    ask: Ask, own_site: Path, rewrite: Rewrite
) -> None:
    rewrite(own_site / "lessons" / "kinds.md", "date: 2026-11-16", "date: soon")
    code, out, err = ask("measure", "kinds", "--site", own_site)
    assert (code, out) == (1, "")
    assert "lessons/kinds.md:3:7: " in err
