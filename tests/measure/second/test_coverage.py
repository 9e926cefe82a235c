"""Truths lie inside ± as often as ± says, where depths are seen by a second view.

The bench `tests/bench/second_view.py` asks the same of many bodies; here a few hold it to what it found.
"""

from __future__ import annotations

import math
import os

import numpy as np
import pytest

from lessonpress.measure import Measured
from lessonpress.records import View
from tests.bench.second_view import KINDS, OTHER, SAME
from tests.measure.twoviews import filmed
from tests.studio.variation import another_body

BODIES = max(2, round(6 * float(os.environ.get("COVERAGE_TIMES", "0.3"))))


@pytest.mark.parametrize("view", OTHER)
def test_truths_lie_inside_the_interval_of_two_views(view: View) -> None:
    """Of all numbers at least 92 %, less two standard deviations of a share of so many (binomial)."""
    held = []
    for seed in range(BODIES):
        rng = np.random.default_rng([seed, 31])
        body = another_body(rng)
        clip = filmed(body, view, rng, followed=())
        survey = clip.survey(filmed(body, OTHER[view], rng, followed=(), same=SAME))
        for kind in KINDS.values():
            number = None if kind.followed else kind.ask(clip, survey)
            if isinstance(number, Measured):
                held.append(number.low <= kind.truth(clip) <= number.high)
    assert len(held) == 4 * BODIES
    assert np.mean(held) >= 0.92 - 2 * math.sqrt(0.92 * 0.08 / len(held)), held
