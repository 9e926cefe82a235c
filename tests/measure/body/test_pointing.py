"""How far a limb points toward the camera, beside a plain grid search over the depths of both its ends."""

from __future__ import annotations

import numpy as np
import pytest

from lessonpress.measure.body.linked import Place
from lessonpress.measure.body.pointing import Pointing, pointing

D = 4.2  # m, of the camera
ELBOW, WRIST = (-0.32, 0.55), (-0.44, 0.70)  # m, where their rays meet the subject plane
LENGTH, V = 0.255, 0.024


def limb(length: float = LENGTH, apart: float = 0.08, u: float = 0.15) -> Pointing:
    """The elbow is known twice as well as the wrist."""
    return pointing(Place(*ELBOW, 0.15, u / 2), Place(*WRIST, 0.15 + apart, u), length, V, D)


def searched(length: float, apart: float, u: float) -> tuple[np.ndarray, np.ndarray]:
    """All differences of depth, 0.1 mm apart, and how likely each is, the weighed mean of depths kept.

    The two points are put into space by their rays and their distance is measured there.
    """
    first, second = u / 2, u
    weights = np.array([first**-2, second**-2]) / (first**-2 + second**-2)
    mean = weights @ [0.15, 0.15 + apart]
    differences = np.arange(-1.2, 1.2, 1e-4)
    elbow, wrist = mean - weights[1] * differences, mean + weights[0] * differences
    points = [
        np.column_stack([*(place * (1 - d / D)[:, None]).T, d])
        for place, d in ((np.array(ELBOW), elbow), (np.array(WRIST), wrist))
    ]
    off = np.linalg.norm(points[1] - points[0], axis=1) - length
    likely = np.exp(-(((differences - apart) / np.hypot(first, second)) ** 2 + (off / V) ** 2) / 2)
    return differences, likely / likely.sum()


@pytest.mark.parametrize("apart", [-0.2, 0.0, 0.08, 0.3])
@pytest.mark.parametrize("length", [0.18, 0.255, 0.30])
def test_a_limb_is_solved_as_by_a_plain_grid_search(length: float, apart: float) -> None:
    """The share of either way to a hundredth; the spread, by the entropy of what was searched, to 2 mm."""
    found = limb(length, apart)
    differences, likely = searched(length, apart, 0.15)
    assert found.toward == pytest.approx(likely[differences > 0].sum(), abs=0.01)
    entropy = -np.sum(likely * np.log(np.maximum(likely, 1e-300) / 1e-4))
    assert found.spread == pytest.approx(np.exp(entropy) / np.sqrt(2 * np.pi * np.e), abs=0.002)


def test_a_limb_seen_short_has_two_answers_and_keeps_both() -> None:
    """The posture says nothing of its way: as likely toward the camera as away, and never between."""
    found = pointing(Place(0, 0, 0, 0.2), Place(0.06, 0.08, 0, 0.2), LENGTH, 0.02, 1e6)  # seen 0.1 m long
    assert found.toward == pytest.approx(0.5, abs=1e-6)
    deep = np.sqrt(LENGTH**2 - 0.1**2)
    peak = found.apart[np.argmax(found.density)]
    assert abs(peak) == pytest.approx(deep, abs=0.01)
    assert found.density[np.abs(found.apart) < deep / 2].sum() < 0.01
    assert found.spread < 0.2 * found.u  # of both answers together, however far apart they are


def test_a_limb_seen_longer_than_it_can_be_says_by_how_much() -> None:
    """Seen 0.19 m long at the least."""
    assert limb().too_long(LENGTH) == 0
    assert limb().too_long(0.12) == pytest.approx(0.068, abs=0.01)
