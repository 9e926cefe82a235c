"""`lessonpress suggest` says of each picture what it proposes and why not more, and how to get what it
needs.
"""

from __future__ import annotations

from pathlib import Path

import pytest
from click.testing import CliRunner

from lessonpress.cli.suggest import _proposed, _told, command
from lessonpress.footage import ClipIndex, Found, Moment, Suggestion
from lessonpress.intake.clip import OpenedClip
from lessonpress.manuscript.clip.clip import Clip
from lessonpress.records import UsageError
from lessonpress.records.mark import Observation


def row(mark: str, frame: int, u: float) -> Observation:
    return Observation(mark, frame, 10.0, 20.0, u, suggested=True)


def test_each_picture_has_its_line_and_each_reason_its_marks() -> None:
    unclear = dict.fromkeys(
        ("lead-heel", "trail-heel", "lead-toe", "trail-toe", "lead-hip"), "sides are unclear"
    )
    made = [
        Suggestion(29, (row("navel", 29, 12.64), row("c7", 29, 8.0)), {"head": "it is unclear"}),
        Suggestion(30, (row("navel", 30, 12.0),), unclear),
        Suggestion(31, why="no person is seen in it"),
        Suggestion(32),
    ]
    assert list(_told(made)) == [
        "frame 29: 2 suggested, u 8.0 to 12.6 px",
        "  not head: it is unclear",
        "frame 30: 1 suggested, u 12.0 to 12.0 px",
        "  not 5 others: sides are unclear",
        "frame 31: no person is seen in it",
        "frame 32: all that was asked for is placed by hand",
    ]


def _refused(*words: str, site: Path) -> str:
    (site / "site.yaml").write_text("title: Notes\n")
    error = CliRunner().invoke(command, [*words, "--site", str(site)]).exception
    assert isinstance(error, UsageError)
    return str(error)


def test_without_the_extra_it_says_in_one_line_how_to_get_it(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("lessonpress.footage.pose.running.LIBRARY", "no_such_library")
    assert "pip install 'lessonpress[suggest]'" in _refused("swing", site=tmp_path)


def test_a_mark_that_no_network_knows_is_named_with_those_close_to_it(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("lessonpress.footage.pose.running.LIBRARY", "json")  # as if the extra were there
    assert _refused("swing", "navl", site=tmp_path).endswith("close to it: navel")


def test_events_are_printed_with_pictures_either_way_and_as_the_card_has_them(tmp_path: Path) -> None:
    opened = OpenedClip(Clip("dune", tmp_path, "", None), ClipIndex.__new__(ClipIndex), {"finish": 99})
    found = Found({"setup": Moment(3, 1), "top": Moment(29, 4)}, "two are missing")
    assert list(_proposed(found, opened)) == [
        "setup: frame 3 ± 1",
        "top: frame 29 ± 4",
        "two are missing",
        "look at them; on the card they are   events: {setup: 3, top: 29, finish: 99}",
    ]
    with pytest.raises(UsageError, match="no swing"):
        list(_proposed(Found(why="no swing"), opened))


def test_events_are_proposed_by_themselves(tmp_path: Path) -> None:
    assert "leave out marks" in _refused("swing", "navel", "--events", site=tmp_path)
