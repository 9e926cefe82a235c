"""Every kind of number that a lesson can ask for, each with its truth from the studio."""

from __future__ import annotations

import numpy as np

from tests.chain.chain import Asked, Points
from tests.studio.clip import MadeClip


def frame_of(clip: MadeClip, instant: str) -> int:
    """An event's frame, or that of an event plus or minus frames."""
    event, *plus = instant.replace("- ", "-").replace("+ ", "+").split()
    return clip.events[event] + sum(int(part) for part in plus)


def when(clip: MadeClip, instant: str) -> float:
    return float(clip.times[frame_of(clip, instant)])


def way(clip: MadeClip, first: str, last: str) -> Points:
    """Real seconds of every picture from one instant to another."""
    return np.asarray(clip.times[frame_of(clip, first) : frame_of(clip, last) + 1])


def from_centre(clip: MadeClip, mark: str, first: str, last: str, near: str) -> float:
    """How far the centre of a mark's circle lies from another mark at the last instant, m."""
    centre, _ = clip.truth.circle(mark, way(clip, first, last))
    return float(np.hypot(*(centre - clip.truth.flat(near, when(clip, last)))))


def radius(clip: MadeClip, mark: str, first: str, last: str) -> float:
    return clip.truth.circle(mark, way(clip, first, last))[1]


# on one still
STILL = [
    Asked("tilt", "tilt: [navel, c7]", lambda c: c.truth.tilt("navel", "c7", when(c, "impact"))),
    Asked(
        "angle",
        "angle: [trail-hip, trail-knee, trail-ankle]",
        lambda c: c.truth.angle("trail-hip", "trail-knee", "trail-ankle", when(c, "impact")),
    ),
    Asked(
        "distance",
        "distance: [lead-knee, lead-shoulder]",
        lambda c: c.truth.distance("lead-knee", "lead-shoulder", when(c, "impact")),
    ),
    Asked(
        "distance-level",
        "distance: [pelvis, c7]\naxis: level",
        lambda c: c.truth.distance("pelvis", "c7", when(c, "impact"), "level"),
    ),
    Asked(
        "distance-plumb",
        "distance: [trail-ankle, head]\naxis: plumb",
        lambda c: c.truth.distance("trail-ankle", "head", when(c, "impact"), "plumb"),
    ),
    Asked(
        "clock",
        "clock: [lead-shoulder, lead-wrist]",
        lambda c: c.truth.clock("lead-shoulder", "lead-wrist", when(c, "top")),
        "top",
    ),
]
# between two stills of one clip
MOVED = [
    Asked("shift", "shift: navel", lambda c: c.truth.shift("navel", when(c, "setup"), when(c, "top")), "top"),
    Asked(
        "shift-plumb",
        "shift: trail-hip\naxis: plumb\nsince: top",
        lambda c: c.truth.shift("trail-hip", when(c, "top"), when(c, "impact"), "plumb"),
    ),
    Asked(
        "shift-straight",
        "shift: trail-shoulder\naxis: straight",
        lambda c: c.truth.shift("trail-shoulder", when(c, "setup"), when(c, "top"), "straight"),
        "top",
    ),
]
# what only a view across the target line shows
FACED = [
    Asked(
        "wrist-angle",
        "angle: [trail-elbow, trail-wrist, implement-head]",
        lambda c: c.truth.angle("trail-elbow", "trail-wrist", "implement-head", when(c, "top")),
        "top",
    ),
    Asked(
        "turn",
        "turn: [trail-shoulder, lead-shoulder]",
        lambda c: c.truth.turn("trail-shoulder", "lead-shoulder", when(c, "setup"), when(c, "top")),
        "top",
    ),
    Asked("balance", "balance:", lambda c: c.truth.balance(when(c, "impact"))),
    Asked(
        "instead-chord",
        "instead: [navel, c7]\nof: lead-hip\nto: 60 deg",
        lambda c: c.truth.instead("navel", "c7", "lead-hip", 60, when(c, "impact")),
    ),
    Asked(
        "instead-arc",
        "instead: [navel, c7]\nof: lead-hip\nto: 60 deg\nalong: arc",
        lambda c: c.truth.instead("navel", "c7", "lead-hip", 60, when(c, "impact"), "arc"),
    ),
]
# along a motion
MOVING = [
    Asked(
        "path",
        "path: implement-head\nfrom: top",
        lambda c: c.truth.path("implement-head", way(c, "top", "impact")),
    ),
    Asked(
        "speed",
        "speed: implement-head",
        lambda c: c.truth.speed("implement-head", when(c, "impact - 8")),
        "impact - 8",
    ),
    Asked(
        "speed-at-impact",
        "speed: implement-head",
        lambda c: c.truth.speed("implement-head", when(c, "impact"), side=-1),
    ),
    Asked("radius", "circle: lead-wrist\nfrom: top", lambda c: radius(c, "lead-wrist", "top", "impact")),
    Asked(
        "hub",
        "circle: lead-wrist\nfrom: top\nnear: c7",
        lambda c: from_centre(c, "lead-wrist", "top", "impact", "c7"),
    ),
]
# along what the tracker itself can follow: the hand, whose places lie close together
CARRIED = [
    Asked(
        "hand-path",
        "path: lead-wrist\nfrom: top",
        lambda c: c.truth.path("lead-wrist", way(c, "top", "impact")),
    ),
    Asked(
        "hand-speed",
        "speed: lead-wrist",
        lambda c: c.truth.speed("lead-wrist", when(c, "impact - 30")),
        "impact - 30",
    ),
    *MOVING[-2:],
]
