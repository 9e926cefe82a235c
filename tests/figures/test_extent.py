"""Two marks are enough for a picture of the whole golfer: the drawn swingers, whose marks are all known."""

from __future__ import annotations

from dataclasses import replace

import pytest

from lessonpress.figures.bind.crop import auto, full_frame
from lessonpress.figures.bind.extent import hull
from lessonpress.figures.bind.surveyed_clip import SurveyedClip, survey_clip
from lessonpress.footage.camera.study import Study
from lessonpress.manuscript import read_site
from lessonpress.manuscript.clip.clip import Clip
from lessonpress.records.problem import Problems
from tests.figures.films import index_of
from tests.studio.demo import ROOT

SITE, _ = read_site(ROOT / "content")
assert SITE is not None
SIZE = (2000, 1600)  # a wider picture of the same room, so that its edges hold nothing in
ASIDE, ABOVE = (2000 - 720) / 2, (1600 - 800) / 2


def widened(clip: Clip) -> Clip:
    moved = (replace(one, x=one.x + ASIDE, y=one.y + ABOVE) for one in clip.observations)
    return replace(clip, observations=tuple(moved))


CLIPS = {
    name: widened(SITE.clips[name]) for name in ("dune-face-on", "dune-down-the-line", "shingle-face-on")
}
TWO = frozenset(["navel", "c7"])


def filmed_with(clip: Clip, marks: frozenset[str]) -> SurveyedClip:
    """The clip with those of its golfer's marks alone, and the room's."""
    assert clip.card is not None
    kept = tuple(one for one in clip.observations if one.mark in marks or one.mark in clip.card.room)
    last = max(one.frame for one in clip.observations)
    made = survey_clip(replace(clip, observations=kept), Study(index_of(last + 1, SIZE)), "in", Problems())
    assert made is not None
    return made


@pytest.mark.parametrize("name", CLIPS)
@pytest.mark.parametrize("event", ["setup", "top", "impact"])
def test_a_lesson_of_two_marks_shows_head_feet_and_club(name: str, event: str) -> None:
    clip = CLIPS[name]
    filmed = filmed_with(clip, TWO)
    frame = filmed.events[event]
    left, top, right, bottom = auto(hull(filmed, {frame}), SIZE)
    assert clip.card is not None
    seen = [one for one in clip.observations if one.frame == frame and one.mark not in clip.card.room]
    assert len(seen) > 15
    assert bottom - top < 2.7 * (max(one.y for one in seen) - min(one.y for one in seen))
    outside = [one.mark for one in seen if not (left <= one.x <= right and top <= one.y <= bottom)]
    assert outside == []


def test_with_head_feet_and_club_placed_the_crop_is_theirs() -> None:
    clip = CLIPS["dune-face-on"]
    every = frozenset(one.mark for one in clip.observations)
    filmed = filmed_with(clip, every)
    frame = filmed.events["top"]
    assert clip.card is not None
    seen = [one for one in clip.observations if one.frame == frame and one.mark not in clip.card.room]
    assert sorted(hull(filmed, {frame})) == sorted((one.x, one.y) for one in seen)


def test_where_no_scale_shows_how_far_a_body_reaches_the_picture_stays_whole() -> None:
    clip = CLIPS["dune-face-on"]
    assert clip.card is not None
    bare = replace(clip, card=clip.card.model_copy(update={"scale": ()}))
    filmed = filmed_with(bare, TWO)
    assert auto(hull(filmed, {filmed.events["top"]}), SIZE) == full_frame(SIZE)
