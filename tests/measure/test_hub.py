"""How far the centre of the hands' circle lies from C7, in one view, of hands whose depth no card states."""

from __future__ import annotations

import numpy as np
import pytest

from lessonpress.measure import Measured
from tests.bench.second_view import KINDS, LANDSCAPE
from tests.measure.twoviews import filmed
from tests.studio.variation import another_body


@pytest.mark.parametrize("seed", [0, 1, 3, 7])
def test_a_hub_lies_inside_its_interval_though_hands_go_out_on_the_way_down(seed: int) -> None:
    """Four bodies of those at which the bench looks; three lay outside while bends were half as wide."""
    rng = np.random.default_rng([seed, 17])
    clip = filmed(another_body(rng), "face-on", rng, **LANDSCAPE)  # type: ignore[arg-type]
    found = KINDS["hub"].ask(clip, clip.survey())
    assert isinstance(found, Measured)
    assert found.low <= KINDS["hub"].truth(clip) <= found.high
