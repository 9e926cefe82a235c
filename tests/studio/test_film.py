"""What the film laboratory leaves behind beside its film. The films themselves are read in tests/footage."""

from __future__ import annotations

import os
from pathlib import Path

import numpy as np
import pytest

from tests.studio.film import SETTINGS, encode


@pytest.mark.skipif(not hasattr(os, "sched_getscheduler"), reason="this system has no such call")
@pytest.mark.parametrize("codec", SETTINGS)
def test_the_thread_keeps_its_scheduling(tmp_path: Path, codec: str) -> None:
    """It matters where root runs the tests: there an encoder may raise it to real time, sched(7)."""
    before = os.sched_getscheduler(0), os.sched_getparam(0)
    pix_fmt = "yuvj420p" if codec == "mjpeg" else "yuv420p"
    encode(tmp_path / "film.mkv", np.zeros((4, 64, 64, 3), np.uint8), codec=codec, pix_fmt=pix_fmt)
    assert (os.sched_getscheduler(0), os.sched_getparam(0)) == before
