"""What is learnt of errors that go together, on errors of which it is known."""

from __future__ import annotations

import numpy as np
import pytest

from tests.suggesting.together import NECK, OWN, Errors, OfFilm, lasting, neck_of, pairs_of

SECONDS = np.arange(0, 2, 1 / 60)
U = np.full(len(SECONDS), 0.01)


def film(chance: np.random.Generator, lasts: float, pair: float = -0.6) -> OfFilm:
    """Errors of u 1 and size 0.85 that go to and fro in time as those of a low-pass filter do, with a time
    constant of `lasts` (an autoregressive process of first order), and a correlation of the two sides.
    """

    def course() -> np.ndarray[tuple[int, int], np.dtype[np.float64]]:
        kept = np.exp(-1 / 60 / lasts) if lasts else 0.0
        values = [chance.normal(0, 1, 2)]
        for _ in SECONDS[1:]:
            values.append(kept * values[-1] + np.sqrt(1 - kept**2) * chance.normal(0, 1, 2))
        return 0.85 * np.array(values)

    lead, other = course(), course()
    trail = pair * lead + np.sqrt(1 - pair**2) * other
    off = {"lead-hip": lead, "trail-hip": trail}
    return {"hip": Errors(SECONDS, off, dict.fromkeys(off, U))} | {
        part: Errors(
            SECONDS,
            {f"lead-{part}": course(), f"trail-{part}": course()},
            {f"lead-{part}": U, f"trail-{part}": U},
        )
        for part in ("heel", "ankle", "toe", "knee", "shoulder", "elbow", "wrist")
    }


def test_errors_of_the_two_sides_are_found_to_go_together() -> None:
    """Where all films say so; what goes one way on one and the other way on the next is left out."""
    chance = np.random.default_rng(5)
    found = pairs_of([film(chance, 0.02) for _ in range(8)])
    assert found["hip"] == pytest.approx((-0.6, -0.6), abs=0.1)
    assert all(abs(r) < 0.2 for part, pair in found.items() if part != "hip" for r in pair)
    assert "hip" not in pairs_of([film(chance, 0.02, pair) for pair in (-0.6, 0.6)])


def test_what_the_neck_has_in_common_is_found_from_each_two_of_its_marks() -> None:
    """Nothing where two of twelve films say another thing."""
    chance = np.random.default_rng(7)
    shared = dict(zip(NECK, (0.8, -0.7, -0.6), strict=True))

    def film_of_neck(turned: float = 1.0) -> OfFilm:
        common = chance.normal(0, 1, (len(SECONDS), 2))
        found = {}
        for mark, r in shared.items():
            off = r * common + np.sqrt(1 - r**2) * chance.normal(0, 1, common.shape)
            found[mark] = Errors(SECONDS, {mark: off * (turned if mark == "c7" else 1.0)}, {mark: U})
        return found

    films = [film_of_neck() for _ in range(12)]
    for axis in (0, 1):
        found = {mark: both[axis] for mark, both in neck_of(films).items()}
        assert found == pytest.approx(shared, abs=0.1)
    unlike = [film_of_neck(-1.0) for _ in range(2)]
    assert neck_of([*films, *unlike]) == dict.fromkeys(NECK, (0.0, 0.0))


def test_errors_are_said_to_last_no_longer_than_they_do() -> None:
    """Errors with no memory have next to nothing in common, slow ones all that is allowed."""
    chance = np.random.default_rng(6)
    slow, middling, none = (lasting([film(chance, lasts) for _ in range(4)]) for lasts in (1.0, 0.1, 0.0))
    assert slow[0] > middling[0]
    assert (slow[1], none[1]) == (min(OWN), max(OWN))
