"""Marks placed by hand win over tracks, and a track knows the placing that it began from."""

from __future__ import annotations

from pathlib import Path

from lessonpress.manuscript import read_site
from lessonpress.manuscript.clip.clip import Clip
from lessonpress.records.mark import Observation
from lessonpress.records.problem import Location
from tests.manuscript.documents import SOUND, lay_out

MARKS = b"""\
implement-head:
  192: [640.0, 200.0]
  200: [500.5, 240.0, 0.8]
"""
TRACKS = b"""\
mark,frame,x,y,u
implement-head,193,611.20,180.44,0.62
implement-head,196,590,190,1e-1
implement-head,197,570,200,0.7
implement-head,200,501,241,0.7
"navel",12,600,400,0.5
"""


def clip(tmp_path: Path) -> Clip:
    files = SOUND | {"clips/dune/marks.yaml": MARKS, "clips/dune/tracks.csv": TRACKS}
    lay_out(files, tmp_path)
    site, problems = read_site(tmp_path)
    assert problems.collected == []
    assert site is not None
    return site.clips["dune"]


def test_observations_are_those_by_hand_and_the_tracks_of_other_frames(tmp_path: Path) -> None:
    assert clip(tmp_path).observations == (
        Observation("implement-head", 192, 640.0, 200.0),
        Observation("implement-head", 200, 500.5, 240.0, 0.8),
        Observation("implement-head", 193, 611.2, 180.44, 0.62, tracked=True, origin=192),
        Observation("implement-head", 196, 590.0, 190.0, 0.1, tracked=True, origin=192),
        Observation("implement-head", 197, 570.0, 200.0, 0.7, tracked=True, origin=200),
        Observation("navel", 12, 600.0, 400.0, 0.5, tracked=True),
    )


def test_each_observation_is_found_where_it_is_written(tmp_path: Path) -> None:
    made = clip(tmp_path)
    assert made.location_of_mark("implement-head", 200) == Location("clips/dune/marks.yaml", 3, 3)
    assert made.location_of_mark("implement-head", 196) == Location("clips/dune/tracks.csv", 3, 1)
    assert made.location_of_mark("implement-head", 9) == Location("clips/dune/marks.yaml", 1, 1)
    assert made.marks == {"implement-head", "navel"}


def test_a_quoted_field_of_any_length_is_a_mistake_in_its_row(tmp_path: Path) -> None:
    """The csv module stops at 131,072 characters of a field."""
    long = b'"' + b"x" * 200_000 + b'",12,600,400,0.5\n'
    lay_out(SOUND | {"clips/dune/tracks.csv": TRACKS + long}, tmp_path)
    _, problems = read_site(tmp_path)
    assert [problem.location.line for problem in problems.errors] == [7]
