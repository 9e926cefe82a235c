"""Pictures made into a video again."""

from __future__ import annotations

import os
from io import BytesIO

import av
import numpy as np
import pytest

from lessonpress.footage.video.filmstrip import encoded_loop

SIZE = (64, 48)


def grey(level: int) -> np.ndarray:
    return np.full((SIZE[1], SIZE[0], 3), level, dtype=np.uint8)


def test_each_picture_stays_for_its_own_time_and_the_last_one_too():
    film = encoded_loop([grey(40), grey(120), grey(200)], [0.1, 0.3, 0.2], SIZE)
    with av.open(BytesIO(film)) as container:
        stream = container.streams.video[0]
        shown = [
            (frame.time, int(frame.to_ndarray(format="rgb24").mean())) for frame in container.decode(stream)
        ]
        duration = float(stream.duration * stream.time_base)
    assert np.allclose([time for time, _ in shown[:3]], [0.0, 0.1, 0.4], atol=1e-4)
    assert np.allclose([level for _, level in shown[:3]], [40, 120, 200], atol=3)
    assert abs(duration - 0.6) < 0.002


@pytest.mark.skipif(not hasattr(os, "sched_setaffinity"), reason="needs a system that can hide cores")
def test_the_bytes_are_the_same_on_any_number_of_cores() -> None:
    rng = np.random.default_rng(4)
    ground = rng.integers(0, 255, (240, 320, 3), dtype=np.uint8)
    pictures = [np.roll(ground, 5 * number, axis=1) for number in range(8)]
    cores = os.sched_getaffinity(0)
    films = []
    try:
        for seen in ({min(cores)}, cores):
            os.sched_setaffinity(0, seen)
            films.append(encoded_loop(pictures, [0.1] * 8, (320, 240)))
    finally:
        os.sched_setaffinity(0, cores)
    assert films[0] == films[1]


def test_a_film_says_nothing_of_the_programs_that_made_it() -> None:
    """By default the encoder signs each file with its name, its settings and where it is to be had."""
    film = encoded_loop([grey(40), grey(120)], [0.1, 0.1], SIZE)
    for sign in (b"x264", b"http", b"Lavf", b"Lavc"):
        assert sign not in film
