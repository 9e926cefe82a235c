"""The demo clips in content/ are what the studio made, and their cards state the truth about it."""

from __future__ import annotations

import json
from pathlib import Path

import av
import numpy as np
import pytest

from lessonpress.manuscript import read_site
from lessonpress.manuscript.site.site import Site
from tests.measure.twoviews import ABOVE_HAND
from tests.studio.demo import DEMOS, ROOT, Demo
from tests.studio.room import INCH

CLIPS = sorted(path.name for path in (ROOT / "content" / "clips").iterdir() if path.is_dir())
EACH = pytest.mark.parametrize("demo", [DEMOS[name] for name in CLIPS], ids=CLIPS)


@pytest.fixture(scope="module")
def content() -> Site:
    site, problems = read_site(ROOT / "content")
    assert site is not None
    assert [problem for problem in problems.errors if problem.location.path.startswith("clips/")] == []
    return site


@EACH
def test_a_card_says_how_the_clip_was_made(demo: Demo, content: Site) -> None:
    card = content.clips[demo.name].card
    assert card is not None
    made = demo.made(Path())
    assert (card.view, card.hand) == (demo.view, demo.swinger.hand)
    assert card.stature is not None
    assert card.stature.metres == pytest.approx(demo.swinger.stature, abs=0.001)
    if card.implement_length is not None:  # as bought, to the half inch
        whole = demo.swinger.club_length + ABOVE_HAND
        assert card.implement_length.metres == pytest.approx(whole, abs=INCH / 2)
    assert {name: instant.frame for name, instant in card.events.items()} == made.events
    assert card.camera is not None
    assert card.camera.distance is not None
    assert card.camera.distance.metres == pytest.approx(demo.camera.distance, abs=0.01)
    assert (card.camera.wall is None) == demo.outdoors
    if card.camera.wall is not None:
        wall = demo.camera.distance_to(np.array([0.0, 0.0, -demo.room.wall]))
        assert card.camera.wall.metres == pytest.approx(wall, abs=0.01)
    assert card.camera.still == (demo.camera.sway is None)


@EACH
def test_a_film_has_a_picture_for_each_moment(demo: Demo) -> None:
    with av.open(str(ROOT / "content" / "clips" / demo.name / f"{demo.name}.mp4")) as film:
        stream = film.streams.video[0]
        assert (stream.width, stream.height) == demo.camera.size
        assert sum(1 for _ in film.decode(stream)) == len(demo.times)


@EACH
def test_marks_and_truth_are_those_of_the_swing_as_drawn(demo: Demo, content: Site) -> None:
    made = demo.made(Path())
    hand = [s for s in content.clips[demo.name].observations if not s.tracked]
    assert len(hand) > 20 * len(made.events)
    for observation in hand:
        assert (observation.x, observation.y) == pytest.approx(
            tuple(made.px[observation.mark][observation.frame]), abs=0.06
        )
    truth = json.loads(
        (ROOT / "tests" / "studio" / "truth" / f"{demo.name}.json").read_text(encoding="utf-8")
    )
    assert truth["times"] == pytest.approx(made.times.tolist(), abs=1e-5)
    for mark, places in truth["px"].items():
        assert np.abs(np.array(places) - made.px[mark]).max() < 0.01
