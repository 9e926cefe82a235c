"""The budget of a number: its inputs and the part of the variance that each brings, largest first."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from lessonpress.measure.uncertainty.propagation import FirstOrder, Inputs
from lessonpress.records.measure import Share

LEAST_SHARE = 0.0005  # smaller ones are of no use to an author


def shares(found: FirstOrder, inputs: Inputs) -> tuple[Share, ...]:
    """Each input's part (c u)² of the variance, in 0..1, largest first; a survey's inputs are independent.

    Source: JCGM 100:2008, 5.1.2, equation (10), term by term.
    """
    parts = {name: (slope * inputs[name].u) ** 2 for name, slope in found.slopes.items()}
    total = sum(parts.values()) or 1.0
    rows = [_share(name, part / total, inputs) for name, part in parts.items() if part / total >= LEAST_SHARE]
    return tuple(sorted(rows, key=lambda share: (-share.share, share.words)))


def _share(name: str, part: float, inputs: Inputs) -> Share:
    quantity = inputs[name]
    return Share(quantity.words, quantity.value, quantity.u, quantity.unit, part, quantity.distribution)


def assumed(read: Iterable[str], notes: Mapping[str, str]) -> tuple[str, ...]:
    """The assumptions behind the inputs that a number reads, each once."""
    return tuple(dict.fromkeys(notes[name] for name in read if name in notes))
