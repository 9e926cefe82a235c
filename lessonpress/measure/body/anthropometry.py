"""Published proportions and masses of a human body, and what a body cannot be.

Source: D. A. Winter, Biomechanics and Motor Control of Human Movement, lengths after Drillis and Contini
1966, masses and centres after Dempster (from memory).
"""

from __future__ import annotations

from dataclasses import dataclass

# lengths as fractions of stature
HIP_BREADTH = 0.191
SHOULDER_BREADTH = 0.259
UPPER_ARM = 0.186
FOREARM = 0.146
HAND = 0.108
THIGH = 0.245
SHANK = 0.246


@dataclass(frozen=True)
class Segment:
    """mass: fraction of the body's. centre: from proximal to distal end, as a fraction of the length.

    proximal, distal: marks at the ends; several are averaged.
    """

    name: str
    mass: float
    centre: float
    proximal: tuple[str, ...]
    distal: tuple[str, ...]


def _both(name: str, mass: float, centre: float, proximal: str, distal: str) -> list[Segment]:
    sides = ("lead", "trail")
    return [Segment(f"{s} {name}", mass, centre, (f"{s}-{proximal}",), (f"{s}-{distal}",)) for s in sides]


# A hand's centre lies within a few cm of the wrist and a foot's of the ankle and toe: both too light to ask
# more.
SEGMENTS: tuple[Segment, ...] = (
    Segment("trunk", 0.497, 0.50, ("lead-hip", "trail-hip"), ("lead-shoulder", "trail-shoulder")),
    Segment("head and neck", 0.081, 0.0, ("head",), ("head",)),
    *_both("upper arm", 0.028, 0.436, "shoulder", "elbow"),
    *_both("forearm", 0.016, 0.430, "elbow", "wrist"),
    *_both("hand", 0.006, 0.0, "wrist", "wrist"),
    *_both("thigh", 0.100, 0.433, "hip", "knee"),
    *_both("shank", 0.0465, 0.433, "knee", "ankle"),
    *_both("foot", 0.0145, 0.0, "ankle", "ankle"),
)


def mark_weights() -> dict[str, float]:
    """What each mark weighs in the centre of mass; the weights sum to the table's masses, 1.

    A segment's centre is proximal + centre × (distal − proximal), so a mark's weight is a sum of such parts.
    """
    weights: dict[str, float] = {}
    for segment in SEGMENTS:
        for marks, part in ((segment.proximal, 1 - segment.centre), (segment.distal, segment.centre)):
            for mark in marks:
                weights[mark] = weights.get(mark, 0.0) + segment.mass * part / len(marks)
    return {mark: weight for mark, weight in weights.items() if weight}


@dataclass(frozen=True)
class Proportion:
    """A part of the body between two marks, its published fraction of stature, and if it can look short."""

    words: str
    ends: tuple[str, str]
    fraction: float
    foreshortened: bool


def _limbs(words: str, near: str, far: str, fraction: float, foreshortened: bool) -> list[Proportion]:
    sides = ("lead", "trail")
    return [Proportion(f"{s} {words}", (f"{s}-{near}", f"{s}-{far}"), fraction, foreshortened) for s in sides]


# A part can look shorter than it is, never longer; the legs at setup hardly look shorter.
PROPORTIONS: tuple[Proportion, ...] = (
    Proportion("breadth of the hips", ("lead-hip", "trail-hip"), HIP_BREADTH, True),
    Proportion("breadth of the shoulders", ("lead-shoulder", "trail-shoulder"), SHOULDER_BREADTH, True),
    *_limbs("upper arm", "shoulder", "elbow", UPPER_ARM, True),
    *_limbs("forearm", "elbow", "wrist", FOREARM, True),
    *_limbs("thigh", "hip", "knee", THIGH, False),
    *_limbs("shank", "knee", "ankle", SHANK, False),
)
TOO_LONG = 1.35  # times the published length: beyond bodies, trousers and shoes
TOO_SHORT = 0.6
