"""How far a limb points toward the camera, beside a plain grid search over the depths of both its ends."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from lessonpress.measure.body.pointing import Pointing

D = 4.2  # m, of the camera
ELBOW, WRIST = np.array([-0.32, 0.55]), np.array([-0.44, 0.70])  # m, where their rays meet the subject plane
SHARE = 0.4  # of the difference that the elbow takes


def limb(length: float = 0.255, known: float = 0.08, u: float = 0.22, v: float = 0.024) -> Pointing:
    """The mean depth of both ends is 0.15 m."""
    near = 1 - 0.15 / D
    across, up = (
        (np.array([(b - a) * near]), np.array([-(b * (1 - SHARE) + a * SHARE) / D]))
        for a, b in zip(ELBOW, WRIST, strict=True)
    )
    return Pointing(across, up, np.array([known]), u, np.array([length]), v)


def searched(length: float, known: float, u: float, v: float) -> tuple[np.ndarray, np.ndarray]:
    """All depths of elbow and wrist whose mean is 0.15 m, 0.1 mm apart, and how likely each pair is.

    The two points are put into space by their rays and their distance is measured there.
    """
    apart = np.arange(-1.2, 1.2, 1e-4)
    elbow, wrist = 0.15 - SHARE * apart, 0.15 + (1 - SHARE) * apart
    points = [
        np.column_stack([*(place * (1 - d / D)[:, None]).T, d])
        for place, d in ((ELBOW, elbow), (WRIST, wrist))
    ]
    off = np.linalg.norm(points[1] - points[0], axis=1) - length
    likely = np.exp(-(((apart - known) / u) ** 2 + (off / v) ** 2) / 2)
    return apart, likely / likely.sum()


@pytest.mark.parametrize("known", [-0.2, 0.0, 0.08, 0.3])
@pytest.mark.parametrize("length", [0.18, 0.255, 0.30])
def test_a_limb_is_solved_as_by_a_plain_grid_search(length: float, known: float) -> None:
    """Its quantiles to 4 mm; the share of either way and the spread to a hundredth."""
    pointing = limb(length, known)
    apart, likely = searched(length, known, pointing.u, pointing.v)
    summed = np.cumsum(likely)
    for normal, below in ((-1.959964, 0.025), (-1.0, 0.158655), (1.0, 0.841345), (1.959964, 0.975)):
        assert pointing.at(np.array([normal]))[0] == pytest.approx(np.interp(below, summed, apart), abs=0.004)
    mean = float(likely @ apart)
    assert pointing.spread()[0] == pytest.approx(np.sqrt(likely @ (apart - mean) ** 2), abs=0.002)
    assert pointing.toward()[0] == pytest.approx(likely[apart > 0].sum(), abs=0.01)


def test_a_limb_seen_short_has_two_answers_and_keeps_both() -> None:
    """The posture says nothing of its way: as likely toward the camera as away, and never between."""
    across, up = ((np.array([part]), np.zeros(1)) for part in (0.06, 0.08))  # seen 0.1 m long
    pointing = Pointing(across, up, np.zeros(1), 0.25, np.array([0.255]), 0.02)
    assert pointing.toward()[0] == pytest.approx(0.5, abs=1e-6)
    drawn = pointing_of(pointing, 4000)
    deep = np.sqrt(0.255**2 - 0.1**2)
    assert np.median(drawn[drawn > 0]) == pytest.approx(deep, abs=0.01)
    assert np.median(drawn[drawn < 0]) == pytest.approx(-deep, abs=0.01)
    assert np.mean(np.abs(drawn) < deep / 2) < 0.01


def pointing_of(one: Pointing, draws: int) -> np.ndarray:
    rows = np.zeros(draws)
    across, up = ((part[0] + rows, part[1] + rows) for part in (one.across, one.up))
    many = replace(one, across=across, up=up, known=one.known + rows, length=one.length + rows)
    return many.at(np.random.default_rng(3).standard_normal(draws))


def test_a_limb_seen_longer_than_it_can_be_says_by_how_much() -> None:
    """Seen 0.20 m long at the least, at a length of 0.12 m known to 0.024 m: over three times that."""
    assert limb(length=0.255).too_long()[0] == 0
    assert 2.5 < limb(length=0.12).too_long()[0] < 3.5
