"""The budget of a number: its inputs and the part of the variance that each brings, largest first."""

from __future__ import annotations

from collections.abc import Collection, Iterable

from lessonpress.measure.uncertainty.propagation import FirstOrder
from lessonpress.measure.uncertainty.quantities import Quantity
from lessonpress.records import Share

LEAST_SHARE = 0.0005  # smaller ones are of no use to an author


def shares(estimate: FirstOrder, home: str = "") -> tuple[Share, ...]:
    """Each input's part (c u)² of the variance, in 0..1, largest first; a survey's inputs are independent.

    home: the one clip that the number is of, "" where it is of several. Inputs of others name their clip.
    Source: JCGM 100:2008, 5.1.2, equation (10), term by term.
    """
    parts = {quantity: (slope * quantity.u) ** 2 for quantity, slope in estimate.slopes.items()}
    total = sum(parts.values()) or 1.0
    foreign = {one.clip for one in parts} - {home}
    named = foreign if home or len(foreign) > 1 else set()
    told = {one: f", of {one.clip}" if one.clip in named else "" for one in parts}
    rows = [
        _share(one, part / total, told[one]) for one, part in parts.items() if part / total >= LEAST_SHARE
    ]
    return tuple(sorted(rows, key=lambda share: (-share.share, share.words)))


OF_OTHERS = {"with": "the second view", "like": "another swing"}
OF_THE_TABLE, OF_THE_CARD = ("depth", "depth-bend", "stature"), ("stated-depth",)


def sources(estimate: FirstOrder, clips: Collection[str]) -> tuple[tuple[str, float], ...]:
    """What depths come from and the part of the variance that it brings, largest first.

    clips: those that the number is of; inputs of any other are a second view's, or those of another swing.
    """
    parts: dict[str, float] = {}
    total = estimate.u**2 or 1.0
    like = {one.parts[2] for one in estimate.slopes if one.about == "like"}
    for one, slope in estimate.slopes.items():
        source = _source(one, clips, like)
        if source:
            parts[source] = parts.get(source, 0.0) + (slope * one.u) ** 2 / total
    found = [(source, part) for source, part in parts.items() if part >= LEAST_SHARE]
    return tuple(sorted(found, key=lambda one: -one[1]))


def _source(quantity: Quantity, clips: Collection[str], like: Collection[str]) -> str:
    if quantity.clip not in clips:
        return f"{'another swing' if quantity.clip in like else 'the second view'}, {quantity.clip}"
    if quantity.about in OF_OTHERS:
        return f"{OF_OTHERS[quantity.about]}, {quantity.parts[2]}"
    if quantity.about == "swing":
        return "how much swings differ"
    if quantity.about == "limb":
        return "the club's length" if "implement-head" in quantity.parts else "the body's lengths"
    if quantity.about in OF_THE_TABLE:
        return "the posture table"
    return "depths on the card" if quantity.about in OF_THE_CARD else ""


def _share(quantity: Quantity, part: float, of_clip: str) -> Share:
    return Share(
        quantity.words + of_clip, quantity.value, quantity.u, quantity.unit, part, quantity.distribution
    )


def assumed(read: Iterable[Quantity]) -> tuple[str, ...]:
    """The assumptions behind the inputs that a number reads, each once."""
    return tuple(dict.fromkeys(quantity.assumption for quantity in read if quantity.assumption))
