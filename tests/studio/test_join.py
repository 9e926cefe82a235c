"""A rendered figure is laid over the empty room without the noise of its own background."""

from __future__ import annotations

from pathlib import Path

import numpy as np
from numpy.typing import NDArray
from PIL import Image

from tests.studio.join import changed, lay_over

ROOM = np.full((120, 160, 3), 120.0)


def noisy(picture: NDArray[np.float64]) -> NDArray[np.float64]:
    return np.clip(picture + np.random.default_rng(3).normal(0, 6, picture.shape), 0, 255)


def test_noise_alone_changes_nothing() -> None:
    assert changed(noisy(ROOM), ROOM).mean() < 0.01


def test_a_thin_shaft_and_a_faint_shadow_are_kept() -> None:
    shaft, shadow = ROOM.copy(), ROOM.copy()
    shaft[:, 80:82] = 40
    shadow[40:80, 40:120] -= 9
    assert changed(noisy(shaft), ROOM)[20:100, 80:82].min() > 0.95
    assert changed(noisy(shadow), ROOM)[52:68, 52:108].mean() > 0.9


def test_the_figure_is_laid_on_and_the_room_kept(tmp_path: Path) -> None:
    part = tmp_path / "part.png"
    box = np.full((60, 80, 3), 123, np.uint8)
    box[20:40, 30:50] = 10
    Image.fromarray(box).save(part)
    lay_over(Image.fromarray(ROOM.astype(np.uint8)), part, (40, 30, 120, 90))
    with Image.open(part) as image:
        joined = np.asarray(image)
    assert joined.shape == (120, 160, 3)
    assert (joined[60, 80] == 10).all()
    assert (joined[35, 50] == 120).all()
    assert (joined[5, 5] == 120).all()


def test_a_box_as_wide_as_the_picture_fades_at_its_other_edges_only(tmp_path: Path) -> None:
    part = tmp_path / "part.png"
    Image.fromarray(np.full((60, 160, 3), 10, np.uint8)).save(part)
    lay_over(Image.fromarray(ROOM.astype(np.uint8)), part, (0, 30, 160, 90))
    with Image.open(part) as image:
        joined = np.asarray(image)
    assert (joined[60, [0, 159]] == 10).all()
    assert 60 < joined[32, 80, 0] < 120
