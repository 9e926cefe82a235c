"""A profile of colours says nothing of a device, and its colours stay: by Little CMS, as Pillow has it."""

from __future__ import annotations

import io

import numpy as np
import pytest
from PIL import Image, ImageCms

from lessonpress.footage.stills.colours import bare_profile

SRGB = ImageCms.createProfile("sRGB")


def profile(version: int) -> bytes:
    """Of sRGB, with a maker's signs in its head; its version says how its words are laid out."""
    made = bytearray(ImageCms.ImageCmsProfile(SRGB).tobytes())
    made[8], made[24:36], made[48:52], made[84:100] = version, b"\7" * 12, b"SALT", b"\7" * 16
    return bytes(made)


def in_another_space(profile_of: bytes) -> np.ndarray:
    levels = np.stack(np.meshgrid(*[np.arange(0, 256, 51)] * 3), -1).reshape(-1, 1, 3).astype(np.uint8)
    there = ImageCms.createProfile("LAB")
    return np.asarray(
        ImageCms.profileToProfile(
            Image.fromarray(levels), ImageCms.ImageCmsProfile(io.BytesIO(profile_of)), there, outputMode="LAB"
        )
    )


@pytest.mark.parametrize("version", [2, 4])
def test_its_colours_stay_and_all_else_goes(version: int) -> None:
    told = profile(version)
    bare = bare_profile(told)
    np.testing.assert_array_equal(in_another_space(bare), in_another_space(told))
    read = ImageCms.ImageCmsProfile(io.BytesIO(bare)).profile
    assert (read.profile_description, read.copyright) == ("colours", "none")
    assert (read.manufacturer, read.model, read.target) == (None, None, None)
    assert not read.header_manufacturer.strip("\0") and b"SALT" not in bare and b"\7" * 12 not in bare
    assert bare_profile(bare) == bare


@pytest.mark.parametrize("end", [0, 20, 128, 300])
def test_what_is_no_profile_is_left_out(end: int) -> None:
    assert bare_profile(profile(4)[:end]) == b""
    assert bare_profile(bytes(end)) == b""
