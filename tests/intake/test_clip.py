"""A clip opened by its name on the command line, and the instants named there."""

from __future__ import annotations

from pathlib import Path

import pytest

from lessonpress.intake.clip import OpenedClip, clip_named, instant_frame, open_clip
from lessonpress.manuscript.clip.clip import Clip
from lessonpress.records.fault import UsageError
from lessonpress.records.problem import problem_text
from tests.figures.films import index_of
from tests.manuscript.documents import SOUND, lay_out

CARD = "clips/dune/clip.yaml"


def told(root: Path) -> list[str]:
    """What is reported of the clip where it cannot be opened."""
    opened, problems = open_clip(root, "dune")
    assert opened is None
    return [problem_text(problem).splitlines()[0] for problem in problems.in_order()]


def test_a_name_that_no_clip_has_is_answered_with_those_there_are(tmp_path: Path) -> None:
    lay_out(SOUND, tmp_path)
    with pytest.raises(UsageError, match="there is no clip called dun; close to it: dune"):
        clip_named(tmp_path, "dun")
    with pytest.raises(UsageError, match="there is no clip called marram; there are: dune"):
        open_clip(tmp_path, "marram")


def test_of_a_site_that_cannot_be_read_its_own_mistakes_are_reported(tmp_path: Path) -> None:
    lay_out({name: data for name, data in SOUND.items() if name != "site.yaml"}, tmp_path)
    assert told(tmp_path) == ["site.yaml:1:1: there is no site.yaml; write one that holds `title: …`"]


def test_of_a_clip_with_mistakes_those_are_reported_and_no_others(tmp_path: Path) -> None:
    files = SOUND | {CARD: SOUND[CARD] + b"hnad: left\n", "lessons/hips.md": b"no front matter\n"}
    lay_out(files, tmp_path)
    assert told(tmp_path) == [f"{CARD}:6:1: there is no key `hnad` here"]


def test_a_clip_without_a_card_is_not_opened(tmp_path: Path) -> None:
    lay_out({name: data for name, data in SOUND.items() if name != CARD}, tmp_path)
    assert told(tmp_path)[0].startswith("clips/dune/clip.yaml:1:1: ")


def test_a_file_that_is_no_video_is_reported_where_the_card_names_it(tmp_path: Path) -> None:
    lay_out(SOUND, tmp_path)
    (problem,) = told(tmp_path)
    assert problem.startswith(f"{CARD}:1:8: ")


@pytest.fixture
def opened() -> OpenedClip:
    """Three hundred pictures, thirty a second, with an impact."""
    return OpenedClip(
        Clip("dune", Path(), "clips/dune/clip.yaml", None), index_of(300, (1280, 720)), {"impact": 252}
    )


@pytest.mark.parametrize(
    ("written", "frame"),
    [("12", 12), ("impact", 252), ("impact - 20", 232), ("2 s", 60), ("00:00:02:15", 75)],
)
def test_an_instant_is_a_frame(opened: OpenedClip, written: str, frame: int) -> None:
    assert instant_frame(opened, written) == frame


@pytest.mark.parametrize(
    ("written", "wrong"),
    [
        ("impct", "has no event `impct`"),
        ("300", "`300` is frame 300, and the clip dune has frames 0 to 299"),
        ("impact - 253", "is frame -1, and the clip dune"),
        ("20 s", "`20 s` is past the end of the clip dune, which lasts 10.00 s"),
        ("at the top!", "at the top!"),
    ],
)
def test_what_is_no_instant_of_the_clip_is_refused_with_a_reason(
    opened: OpenedClip, written: str, wrong: str
) -> None:
    with pytest.raises(UsageError) as refused:
        instant_frame(opened, written)
    assert wrong in str(refused.value)
