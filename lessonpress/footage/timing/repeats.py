"""Pictures shown more than once: film transferred to video, or frames doubled on the way.

A repeat shows by what does not change: where something moves before and after, a picture that equals the
one before it has no motion. Where nothing moves, a repeat looks like a still scene, and is listed
only when the rest of the clip repeats in a regular beat (pulldown) that says so.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from lessonpress.footage.camera.difference import Change, picture_changes

NEAR = 5  # pictures on either side in which motion is looked for
STANDS = 0.25  # of the motion around: less is a repeat or a turning point
MOVES = 2.0  # grey levels by which motion must exceed the clip's noise to say anything
STEADY = 0.6  # motion on either side of a repeat does not die down towards it as before a turning point
LONGEST_BEAT = 6  # pictures
BEATS = 3  # that must be seen
KEEPS_BEAT = 0.95


@dataclass(frozen=True)
class Repeats:
    """frames: those that show again what the frame before shows, ascending. beat: pictures after which the
    pattern returns, or None where it is irregular or there are none.
    """

    frames: tuple[int, ...]
    beat: int | None


def find_repeats(pictures: Iterable[tuple[int, NDArray[np.uint8]]]) -> Repeats:
    """Repeated frames among consecutive pictures (frame, grey (h, w)), ascending without gaps."""
    return repeats_among(picture_changes(pictures))


def repeats_among(seen: list[Change]) -> Repeats:
    """Repeated frames from how much each picture differs from the one before it."""
    if len(seen) < 3:
        return Repeats((), None)
    moved = np.array([change.most for change in seen])
    noise = float(np.percentile([change.middling for change in seen], 10))
    judged = [_stands(moved, number, noise) for number in range(len(moved))]
    beat = _beat(seen, judged)
    if beat is not None:
        length, phases = beat
        return Repeats(tuple(change.frame for change in seen if change.frame % length in phases), length)
    alone = (
        change.frame for number, change in enumerate(seen) if judged[number] and not _turns(moved, number)
    )
    return Repeats(tuple(alone), None)


def _stands(moved: NDArray[np.float64], number: int, noise: float) -> bool | None:
    """Whether a picture is still amid motion; None where too little moves around it to say."""
    before, after = moved[max(0, number - NEAR) : number], moved[number + 1 : number + 1 + NEAR]
    if not len(before) or not len(after):
        around = max(before.max(initial=0.0), after.max(initial=0.0))
    else:
        around = min(before.max(), after.max())
    if around < noise + MOVES:
        return None
    return bool(moved[number] < STANDS * around)


def _turns(moved: NDArray[np.float64], number: int) -> bool:
    """Whether motion dies down towards a picture and grows from it, as at the top of a swing."""
    if not 2 <= number < len(moved) - 2:
        return True
    before, after = moved[number - 1], moved[number + 1]
    dying = before < STEADY * moved[number - 2] or after < STEADY * moved[number + 2]
    return bool(dying or moved[number] > 0.15 * min(before, after))


def _beat(seen: list[Change], judged: list[bool | None]) -> tuple[int, frozenset[int]] | None:
    """(length, phases) of a pattern that the pictures which can be judged keep, shortest first."""
    known = [(change.frame, still) for change, still in zip(seen, judged, strict=True) if still is not None]
    for length in range(2, LONGEST_BEAT + 1):
        if len(known) < BEATS * length:
            return None
        votes: list[list[bool]] = [[] for _ in range(length)]
        for frame, still in known:
            votes[frame % length].append(still)
        if min(map(len, votes)) < BEATS:
            continue
        phases = frozenset(phase for phase, cast in enumerate(votes) if np.mean(cast) > 0.5)
        kept = np.mean([still == (frame % length in phases) for frame, still in known])
        clear = all(np.mean(votes[phase]) >= 0.8 for phase in phases)
        if 0 < len(phases) < length and kept >= KEEPS_BEAT and clear:
            return length, phases
    return None
