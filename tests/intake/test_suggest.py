"""What becomes of a clip's suggestions when marks are suggested anew."""

from __future__ import annotations

from pathlib import Path

import pytest

from lessonpress.footage import ClipIndex, Suggestion
from lessonpress.intake import frames_to_suggest, keep_suggestions, suggestions_allowed
from lessonpress.intake.clip import OpenedClip
from lessonpress.manuscript.clip.clip import Clip
from lessonpress.records import UsageError
from lessonpress.records.mark import Observation


def opened(folder: Path, events: dict[str, int] | None = None) -> OpenedClip:
    clip = Clip("dune", folder, "clips/dune/clip.yaml", None)
    return OpenedClip(clip, ClipIndex.__new__(ClipIndex), events or {})


def found(frame: int, *marks: str) -> Suggestion:
    return Suggestion(
        frame, tuple(Observation(mark, frame, 10.0, 20.0, 5.0, suggested=True) for mark in marks)
    )


def test_rows_of_the_marks_and_frames_asked_about_are_replaced_and_others_kept(tmp_path: Path) -> None:
    clip = opened(tmp_path)
    keep_suggestions(tmp_path, clip, ["navel", "c7"], [found(3, "navel", "c7"), found(4, "navel")])
    path = keep_suggestions(tmp_path, clip, ["navel"], [found(3)])
    assert path.read_text().splitlines() == [
        "mark,frame,x,y,u",
        "c7,3,10.00,20.00,5.000",
        "navel,4,10.00,20.00,5.000",
    ]


def test_a_file_with_mistakes_is_not_written_over(tmp_path: Path) -> None:
    (tmp_path / "suggested.csv").write_text("mark,frame,x,y,u\nnavel,3,x,20,5\n")
    with pytest.raises(UsageError, match=r"suggested\.csv:2: `x` is not a number"):
        keep_suggestions(tmp_path, opened(tmp_path), ["navel"], [found(3, "navel")])


def test_a_clip_without_events_asks_for_pictures(tmp_path: Path) -> None:
    assert frames_to_suggest(opened(tmp_path, {"top": 7, "setup": 3, "address": 3})) == [3, 7]
    with pytest.raises(UsageError, match="name pictures with --at"):
        frames_to_suggest(opened(tmp_path))


def test_a_site_may_forbid_them(tmp_path: Path) -> None:
    (tmp_path / "site.yaml").write_text("title: Notes\n")
    assert suggestions_allowed(tmp_path)
    (tmp_path / "site.yaml").write_text("title: Notes\nsuggested: no\n")
    assert not suggestions_allowed(tmp_path)
