"""Published pictures: cut where the crop says, obscured beyond recovery, kept by what they were made from."""

from __future__ import annotations

import io
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest
from numpy.typing import NDArray
from PIL import Image

from lessonpress.footage.stills.obscuring import obscured
from lessonpress.footage.video.index import ClipIndex, read_index
from lessonpress.pages.pictures import Shot, WantedShot
from lessonpress.press.cache import Cache
from lessonpress.press.pictures import ClipJob, SizedShot, make, printed, sized_shots
from lessonpress.records.problem import Location
from tests.studio import strip
from tests.studio.film import encode

SHOT = Shot("drawn", 3, (10.5, 20.0, 110.5, 145.0))


def _pictures(count: int) -> Iterator[NDArray[np.uint8]]:
    for number in range(count):
        yield strip.stamp(np.full((182, 322, 3), 90, dtype=np.uint8), number)


@pytest.fixture(scope="module")
def clip(tmp_path_factory: pytest.TempPathFactory) -> tuple[Path, ClipIndex]:
    video = tmp_path_factory.mktemp("clip") / "drawn.mp4"
    encode(video, _pictures(12))
    return video, read_index(video)


def _sized(crop: tuple[float, float, float, float], width: int, height: int) -> SizedShot:
    return SizedShot(Shot("drawn", 0, crop), (), width, height, Cache(Path("cache")).entry("pictures", 1))


def test_a_point_of_the_crop_lies_at_its_share_of_the_printed_picture() -> None:
    """The centre of a square of light is found again to a tenth of a px: fractions of the crop are kept."""
    pixels = np.zeros((200, 300, 3), dtype=np.uint8)
    pixels[80:100, 140:160] = 255  # centre (150, 90), edges at whole px, (0, 0) the first pixel's corner
    crop = (100.5, 40.25, 220.5, 190.25)
    content = printed(Image.fromarray(pixels), _sized(crop, 240, 300))
    light = np.asarray(Image.open(io.BytesIO(content)).convert("L"), dtype=float)
    light[light < 40] = 0
    rows, columns = np.indices(light.shape) + 0.5
    x, y = (light * columns).sum() / light.sum(), (light * rows).sum() / light.sum()
    assert x == pytest.approx((150 - 100.5) * 2, abs=0.1)
    assert y == pytest.approx((90 - 40.25) * 2, abs=0.1)


def test_a_printed_picture_is_a_webp_of_its_size() -> None:
    whole = Image.new("RGB", (300, 200), (80, 120, 60))
    made = Image.open(io.BytesIO(printed(whole, _sized((0, 0, 160, 200), 80, 100))))
    assert (made.format, made.size) == ("WEBP", (80, 100))


def _noise() -> Image.Image:
    noise = np.random.default_rng(7).integers(0, 255, (120, 160, 3), dtype=np.uint8)
    return Image.fromarray(noise)


def test_nothing_but_the_means_of_a_few_cells_is_left_of_an_obscured_disc() -> None:
    """Turning each of the 4 × 4 cells upside down keeps its mean: the published disc does not change."""
    whole = np.asarray(_noise()).copy()
    turned = whole.copy()
    for top in range(40, 80, 10):
        for left in range(50, 90, 10):
            turned[top : top + 10, left : left + 10] = turned[top : top + 10, left : left + 10][::-1, ::-1]
    disc = [((70.0, 60.0), 20.0)]
    first, second = (np.asarray(obscured(Image.fromarray(pixels), disc)) for pixels in (whole, turned))
    y, x = np.indices((120, 160)) + 0.5
    inside = (x - 70) ** 2 + (y - 60) ** 2 < 19**2
    assert not np.array_equal(whole[inside], turned[inside])
    assert np.array_equal(first[inside], second[inside])


def test_outside_the_disc_the_picture_is_untouched() -> None:
    whole = _noise()
    seen = np.asarray(obscured(whole, [((70.0, 60.0), 20.0)]))
    y, x = np.indices((120, 160)) + 0.5
    outside = (x - 70) ** 2 + (y - 60) ** 2 > 21**2
    assert np.array_equal(seen[outside], np.asarray(whole)[outside])


@pytest.mark.parametrize("centre", [(0.0, 0.0), (159.0, 60.0), (70.0, 130.0), (400.0, 400.0)])
def test_a_disc_over_the_edge_is_obscured_as_far_as_the_picture_goes(centre: tuple[float, float]) -> None:
    whole = _noise()
    seen = np.asarray(obscured(whole, [(centre, 20.0)])).astype(int)
    y, x = np.indices((120, 160)) + 0.5
    inside = (x - centre[0]) ** 2 + (y - centre[1]) ** 2 < 17**2
    assert (seen[inside] != np.asarray(whole)[inside]).any() == inside.any()


def test_a_printing_is_kept_by_everything_it_is_made_from(
    tmp_path: Path, clip: tuple[Path, ClipIndex]
) -> None:
    index, cache = clip[1], Cache(tmp_path)
    want = WantedShot(SHOT, (80,), ())
    others = [
        (replace(want, shot=replace(SHOT, frame=4)), index, False),
        (replace(want, shot=replace(SHOT, crop=(10.5, 20.0, 110.5, 146.0))), index, False),
        (replace(want, obscured=(((60.0, 60.0), 9.0),)), index, False),
        (replace(want, widths=(79,)), index, False),
        (want, replace(index, fingerprint="0" * 64), False),
        (want, index, True),
    ]
    entries = [
        sized_shots(one, of, woven, cache)[0].entry for one, of, woven in [(want, index, False), *others]
    ]
    assert len(set(entries)) == len(entries)
    assert sized_shots(want, index, False, cache)[0].entry == entries[0]


def test_the_frame_asked_for_is_the_frame_printed(tmp_path: Path, clip: tuple[Path, ClipIndex]) -> None:
    video, index = clip
    cache = Cache(tmp_path)
    wants = [
        WantedShot(Shot("drawn", frame, (0.0, 0.0, 322.0, 182.0)), (161, 322), ()) for frame in (9, 2, 11)
    ]
    every = tuple(sized for want in wants for sized in sized_shots(want, index, False, cache))
    job = ClipJob(Location("clips/drawn/clip.yaml"), video, index, False, every)
    assert make(job) == 6
    for sized in every[1::2]:
        assert strip.read(np.asarray(Image.open(io.BytesIO(sized.entry.content())))) == sized.shot.frame
    assert job.unmade().sized_shots == ()
