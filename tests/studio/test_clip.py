"""A clip made in the studio shows what its truth says."""

from __future__ import annotations

from pathlib import Path

import av
import numpy as np
import pytest

from tests.studio.camera import Camera
from tests.studio.clip import STANDARD_GRAVITY, frame_times, make_clip, make_drop
from tests.studio.strip import read
from tests.studio.swingers import DUNE


def test_a_dot_is_seen_where_the_truth_places_it(tmp_path: Path) -> None:
    """The middle of a drawn target, found by its grey levels in the decoded film, to a tenth of a pixel."""
    clip = make_clip(tmp_path, rate=10, strip=True, dots=("c7",), times=np.array([0.0, 0.4, 0.8]))
    with av.open(str(clip.video)) as film:
        pictures = [frame.to_ndarray(format="rgb24") for frame in film.decode(video=0)]
    assert [read(np.asarray(picture, np.uint8)) for picture in pictures] == [0, 1, 2]
    x, y = clip.px["c7"][0]
    grey = np.asarray(pictures[0], np.float64).mean(axis=2)
    rows, columns = np.mgrid[0 : grey.shape[0], 0 : grey.shape[1]] + 0.5
    ring = np.where(np.hypot(columns - x, rows - y) < 6.3, 248 - grey, 0.0)  # black between white discs
    assert (ring * columns).sum() / ring.sum() == pytest.approx(x, abs=0.1)
    assert (ring * rows).sum() / ring.sum() == pytest.approx(y, abs=0.1)


def test_times_follow_the_rates_of_a_ramp() -> None:
    times = frame_times(0.2, [(0, 50), (5, 200)])
    assert np.diff(times)[:5] == pytest.approx(0.02)
    assert np.diff(times)[5:] == pytest.approx(0.005)


def test_a_dropped_ball_falls_under_standard_gravity(tmp_path: Path) -> None:
    clip = make_drop(tmp_path, rate=60)
    heights = [clip.truth.flat("ball", float(t))[1] for t in clip.times]
    assert np.diff(heights, 2) * 60**2 == pytest.approx(-STANDARD_GRAVITY)


def test_the_truth_of_a_swing_reads_back_from_a_far_camera(tmp_path: Path) -> None:
    """From 4 km off a perspective picture is an orthographic one: px and metres then agree."""
    far = Camera((0, 1.0, 4000.0), focal=1_600_000.0)
    clip = make_clip(tmp_path, DUNE, far, times=np.array([0.1, 0.85, 1.1]))
    navel = clip.px["navel"]
    assert (navel[2] - navel[0])[0] / 400 == pytest.approx(clip.truth.shift("navel", 0.1, 1.1), abs=1e-4)
