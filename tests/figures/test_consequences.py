"""A slip in a clip's files is reported once, and not again at every number and line that rests on it."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.figures.drawn import CARD, MARKS, SCALE, told_of

LESSON = """\
It leans {lean}, the navel has gone {back}, and {of-nothing} is reported all the same.

```frame
id: top
at: impact
draw:
  - tilt: [navel, c7]
    as: lean
  - shift: navel
    as: back
  - distance: [navel, c7]
```
"""
OF_THE_LESSON = """\
lessons/lesson.md:6:49: there is no measure `of-nothing`; name a measure with `as` in a figure of this lesson
    It leans {lean}, the navel has gone {back}, and {of-nothing} is reported all the same.
                                                    ^"""


def test_without_a_slip_only_the_lessons_own_is_reported(tmp_path: Path) -> None:
    assert told_of(tmp_path, LESSON) == OF_THE_LESSON


@pytest.mark.parametrize(
    ("card", "marks", "place"),
    [
        (CARD + SCALE.replace("length", "lenght"), MARKS, "clips/dune/clip.yaml:11:"),
        (CARD.replace("still", "stil") + SCALE, MARKS, "clips/dune/clip.yaml:7:"),
        (CARD + SCALE, MARKS.replace("260], 252", "260, 252"), "clips/dune/marks.yaml:2:"),
        (CARD + SCALE, MARKS.replace("stick-foot: {12", "stick-foot: {x"), "clips/dune/marks.yaml:4:"),
    ],
    ids=["a scale's key", "a camera's key", "a bracket", "a frame's number"],
)
def test_a_slip_in_a_clips_file_is_all_that_is_reported_besides(
    card: str, marks: str, place: str, tmp_path: Path
) -> None:
    told = told_of(tmp_path, LESSON, card=card, marks=marks)
    of_the_clip = told.removesuffix(OF_THE_LESSON)
    assert of_the_clip != told
    heads = [line for line in of_the_clip.splitlines() if line and not line.startswith(" ")]
    assert heads
    assert all(line.startswith(place) for line in heads), told
