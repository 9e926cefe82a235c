"""A frame whose picture is damaged is not an instant: it is reported where it is named."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

from lessonpress.figures.bind.surveyed_clip import survey_clip
from lessonpress.figures.plan.instants import frame_of_instant
from lessonpress.footage.camera.study import Study
from lessonpress.manuscript import read_site
from lessonpress.manuscript.clip.clip import Clip
from lessonpress.records.instant import Instant
from lessonpress.records.problem import Location, Problems
from tests.figures.drawn import CARD, SITE
from tests.figures.films import index_of


def test_a_damaged_frame_is_reported_at_its_place_and_the_one_beside_it_is_good() -> None:
    index = replace(index_of(20, (320, 180)), damaged=(7, 8))
    problems = Problems()
    location = Location("lessons/hips.md", 12, 5)
    clip = Clip("dune", Path("clips/dune"), "clips/dune/clip.yaml", None)
    assert frame_of_instant(Instant("8", frame=8), {}, index, location, problems, clip) is None
    (error,) = problems.errors
    assert error.location == location
    assert error.wrong == "`8` is frame 8, and that picture of the clip dune is damaged"
    assert frame_of_instant(Instant("9", frame=9), {}, index, location, problems, clip) == 9


def test_what_is_placed_on_a_damaged_picture_is_reported_once(tmp_path: Path) -> None:
    """The copy of the video is the one slip, however many marks are placed on it."""
    study = Study(replace(index_of(300, (1280, 720)), damaged=(60,)))
    clip = tmp_path / "clips" / "dune"
    clip.mkdir(parents=True)
    (tmp_path / "site.yaml").write_text(SITE)
    (clip / "clip.yaml").write_text(CARD)
    (clip / "marks.yaml").write_text("navel:\n  60: [10, 10]\nc7:\n  60: [10, 20]\n")
    (clip / "dune.mp4").write_bytes(b"not decoded here")
    site, _ = read_site(tmp_path)
    assert site is not None
    problems = Problems()
    survey_clip(site.clips["dune"], study, site.units, problems, plausible=False)
    of_marks = [one for one in problems.by_cause() if one.location.path.endswith("marks.yaml")]
    assert [(one.wrong, len(one.also)) for one in of_marks] == [
        ("`navel` is placed on frame 60, whose picture is damaged", 1)
    ]
