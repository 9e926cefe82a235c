"""Pictures made into a video again."""

from __future__ import annotations

from io import BytesIO

import av
import numpy as np

from lessonpress.footage.filmstrip import encoded

SIZE = (64, 48)


def grey(level: int) -> np.ndarray:
    return np.full((SIZE[1], SIZE[0], 3), level, dtype=np.uint8)


def test_each_picture_stays_for_its_own_time_and_the_last_one_too():
    film = encoded([grey(40), grey(120), grey(200)], [0.1, 0.3, 0.2], SIZE)
    with av.open(BytesIO(film)) as container:
        stream = container.streams.video[0]
        shown = [
            (frame.time, int(frame.to_ndarray(format="rgb24").mean())) for frame in container.decode(stream)
        ]
        duration = float(stream.duration * stream.time_base)
    assert np.allclose([time for time, _ in shown[:3]], [0.0, 0.1, 0.4], atol=1e-4)
    assert np.allclose([level for _, level in shown[:3]], [40, 120, 200], atol=3)
    assert abs(duration - 0.6) < 0.002
