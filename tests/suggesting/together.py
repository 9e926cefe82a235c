"""What the errors of one clip's suggested places have in common, learnt on films that were left out.

An error that stayed from the first picture to the last would cancel in a shift. On the studio's films hardly
any does: errors go with the posture, and half a second later in a swing they are others. What there is, is
learnt here: how long an error lasts, how the errors of the lead and the trail side of a part go together, and
those of the marks above the shoulders.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import pairwise, product

import numpy as np
from numpy.typing import NDArray

from lessonpress.records import PAIRED

Floats = NDArray[np.float64]

NECK = ("c7", "head", "crown")
GAPS = (0.0, 0.03, 0.1, 0.2, 0.3, 0.6, 1.0, 3.0)  # s, between two pictures: bounds of what is tried by itself
SOON = 0.1  # s: what is to be narrow are numbers of pictures no farther apart
LASTING = (0.05, 0.07, 0.1, 0.15, 0.2, 0.3, 0.4)  # s
OWN = (0.2, 0.3, 0.5, 0.9)  # not less: drawn pictures have little noise (own choice)
ALIKE = 0.9  # of films: in which errors go together the same way
WITHIN = 0.95  # of differences, within 2 u, of all marks, or as many as if errors had nothing in common
WITHIN_ANY = 0.92  # and of each part of the body, or as many as then


@dataclass(frozen=True)
class Errors:
    """Errors of the marks of one part on a film. seconds: (n,), of its pictures. off: each mark's errors
    across and down, (n, 2), in u, NaN where it is not suggested. u: (n,), in sides of the square.
    """

    seconds: Floats
    off: Mapping[str, Floats]
    u: Mapping[str, Floats]


OfFilm = Mapping[str, Errors]


def pairs_of(films: Sequence[OfFilm]) -> dict[str, tuple[float, float]]:
    """By part the correlation of the two sides' errors in one picture, across and down: the mean over films,
    and 0 where fewer than ALIKE of them have it in the same direction.
    """
    found = {}
    for part in PAIRED:
        each = np.array([_of_pair(*film[part].off.values()) for film in films])
        alike = _alike(each)
        across, down = np.where(alike, each.mean(axis=0), 0.0)
        if alike.any():
            found[part] = (round(float(across), 2), round(float(down), 2))
    return found


def _alike(each: Floats) -> NDArray[np.bool_]:
    """Whether ALIKE of what the films say has one sign. each: (films, …)."""
    return np.asarray(np.maximum((each > 0).mean(axis=0), (each < 0).mean(axis=0)) >= ALIKE)


def _of_pair(lead: Floats, trail: Floats) -> Floats:
    both = np.isfinite(lead[:, 0]) & np.isfinite(trail[:, 0])
    lead, trail = lead[both], trail[both]
    return np.asarray((lead * trail).mean(axis=0) / np.sqrt((lead**2).mean(axis=0) * (trail**2).mean(axis=0)))


def neck_of(films: Sequence[OfFilm]) -> dict[str, tuple[float, float]]:
    """By mark of NECK the correlation of its error with one that all three have in common, across and down,
    by Spearman's triads (1904, American Journal of Psychology 15, 201–292); 1 where they say more. 0 on an
    axis on which fewer than ALIKE of the films have each two of them in the same direction.
    """
    marks = [{part: next(iter(film[part].off.values())) for part in NECK} for film in films]
    table = np.array([[[_of_pair(one[a], one[b]) for a in NECK] for b in NECK] for one in marks])
    alike, r = _alike(table).all(axis=(0, 1)), table.mean(axis=0)
    shared = [
        np.where(alike, np.minimum(np.sqrt(np.abs(r[a, b] * r[a, c] / r[b, c])), 1.0), 0.0)
        for a, b, c in ((0, 1, 2), (1, 0, 2), (2, 0, 1))
    ]
    signs = (np.ones(2), np.sign(r[0, 1]), np.sign(r[0, 2]))
    both = [sign * one for sign, one in zip(signs, shared, strict=True)]
    return {part: (round(float(x), 2), round(float(y), 2)) for part, (x, y) in zip(NECK, both, strict=True)}


def lasting(films: Sequence[OfFilm]) -> tuple[float, float]:
    """(lasts, own) under which differences of near pictures have the smallest u that holds at all gaps."""
    alone = list(within(films, LASTING[0], 1.0))
    told = [
        one
        for one in product(LASTING, OWN)
        if all(_holds(*pair) for pair in zip(within(films, *one), alone, strict=True))
    ]
    return min(told, key=lambda one: _left(*one))


def _holds(shares: Mapping[str, float], alone: Mapping[str, float]) -> bool:
    """Of one gap. alone: the shares of errors that have nothing in common."""
    each = all(share >= min(WITHIN_ANY, alone[part]) for part, share in shares.items())
    mean, mean_alone = (float(np.mean(list(one.values()))) for one in (shares, alone))
    return each and mean >= min(WITHIN, mean_alone)


def within(films: Sequence[OfFilm], lasts: float, own: float) -> Iterator[dict[str, float]]:
    """For each gap of GAPS, by part, the share of differences between two pictures that lie within 2 u."""
    held: list[dict[str, list[float]]] = [{} for _ in GAPS[1:]]
    for film in films:
        for part, errors in film.items():
            for mark, off in errors.off.items():
                apart, ratio = _differences(errors.seconds, off, errors.u[mark], lasts, own)
                for at, (least, most) in enumerate(pairwise(GAPS)):
                    these = (apart > least) & (apart <= most)
                    if these.any():
                        held[at].setdefault(part, []).append(float((np.abs(ratio[these]) <= 2).mean()))
    for parts in held:
        yield {part: float(np.mean(shares)) for part, shares in parts.items()}


def _differences(seconds: Floats, off: Floats, u: Floats, lasts: float, own: float) -> tuple[Floats, Floats]:
    """(s between them, difference of their errors in u of it (m, 2)) of each two pictures with the mark."""
    given = np.isfinite(off[:, 0])
    seconds, off, u = seconds[given], off[given], u[given]
    one, other = np.triu_indices(len(seconds), 1)
    common = (1 - own) * correlation(seconds[one], seconds[other], lasts)
    size = np.sqrt(u[one] ** 2 + u[other] ** 2 - 2 * common * u[one] * u[other])
    ratio = (off[one] * u[one][:, None] - off[other] * u[other][:, None]) / size[:, None]
    return np.abs(seconds[other] - seconds[one]), ratio


def correlation(one: Floats, other: Floats, lasts: float) -> Floats:
    """Of what lasts, at two times, s, as `measure/inputs/suggested.py` has it, found without it."""
    (early, first), (late, second) = (np.divmod(time / lasts, 1.0) for time in (one, other))
    first, second = first * np.pi / 2, second * np.pi / 2
    return np.select(
        [early == late, early + 1 == late, late + 1 == early],
        [np.cos(first - second), np.sin(first) * np.cos(second), np.cos(first) * np.sin(second)],
        0.0,
    )


def _left(lasts: float, own: float) -> float:
    """Of the variance of a difference of two pictures up to SOON apart, what the correlation leaves."""
    at, gap = (part.ravel() for part in np.meshgrid(np.linspace(0, lasts, 21), np.linspace(0.01, SOON, 10)))
    return float(np.mean(1 - (1 - own) * correlation(at, at + gap, lasts)))
