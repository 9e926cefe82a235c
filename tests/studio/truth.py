"""What every kind of measure ought to be: computed from the joints themselves, with no picture between.

The measurand is the orthographic projection onto the subject plane, the upright plane through the swinger's
feet that faces the camera. Lengths are metres, angles degrees, speeds metres a second; level lengths are
positive toward the target (from face on, from behind) or the ball (down the line, from the target), plumb
lengths positive upward, tilts positive toward the same sides. Nothing here uses the program's measure room.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from scipy.optimize import least_squares

from lessonpress.records.view import View
from tests.studio.body import Swinger, marks_at
from tests.studio.camera import Camera, to_view

Points = NDArray[np.float64]
Where = Callable[[float], dict[str, Points]]

# Segment: (proximal end, distal end, mass as a fraction of the body's, centre from the proximal end).
# Winter, Biomechanics and Motor Control of Human Movement, anthropometric table after Dempster (memory).
SEGMENTS = {
    "upper-arm": ("shoulder", "elbow", 0.028, 0.436),
    "forearm": ("elbow", "wrist", 0.016, 0.430),
    "thigh": ("hip", "knee", 0.100, 0.433),
    "shank": ("knee", "ankle", 0.0465, 0.433),
    "foot": ("heel", "toe", 0.0145, 0.50),
}
HAND_MASS, HEAD_MASS, TRUNK_MASS = 0.006, 0.081, 0.497


@dataclass(frozen=True)
class Truth:
    """The true measures of one swing as one camera sees it.

    where: seconds -> name -> swing coordinates in m. middles name further points, the mean of others.
    """

    where: Where
    camera: Camera
    view: View = "face-on"
    hand: str = "right"
    middles: Mapping[str, tuple[str, ...]] | None = None

    @property
    def goal_right(self) -> float:
        """+1 where the level axis runs to the picture's right: found from a point set toward the goal."""
        goal = np.array([1.0, 0, 0]) if self.view in ("face-on", "from-behind") else np.array([0, 0, 1.0])
        return float(np.sign(to_view(goal, self.view, self.hand)[0]))

    def world(self, mark: str, t: float) -> Points:
        """View coordinates of a mark or middle."""
        marks = self.where(t)
        names = (self.middles or {}).get(mark, (mark,))
        return to_view(np.mean([marks[name] for name in names], axis=0), self.view, self.hand)

    def flat(self, mark: str, t: float) -> Points:
        """(level, plumb) in the subject plane, m, level positive toward the goal."""
        r = self.world(mark, t)
        return np.array([float(r @ self.camera.level_right) * self.goal_right, float(r[1])])

    def depth(self, mark: str, t: float) -> float:
        """How far the mark is before the subject plane, toward the camera, in m."""
        return self.camera.distance - self.camera.distance_to(self.world(mark, t))

    def tilt(self, a: str, b: str, t: float) -> float:
        """Lean of a→b from the vertical, positive toward the goal."""
        level, plumb = self.flat(b, t) - self.flat(a, t)
        return float(np.degrees(np.arctan2(level, plumb)))

    def angle(self, a: str, v: str, b: str, t: float) -> float:
        """Inside angle at v, 0 to 180."""
        return _between(self.flat(a, t) - self.flat(v, t), self.flat(b, t) - self.flat(v, t))

    def distance(self, a: str, b: str, t: float, axis: str = "straight") -> float:
        return _along(self.flat(b, t) - self.flat(a, t), axis)

    def shift(self, mark: str, since: float, t: float, axis: str = "level") -> float:
        return _along(self.flat(mark, t) - self.flat(mark, since), axis)

    def clock(self, a: str, b: str, t: float) -> float:
        """Direction a→b as seen, degrees clockwise from 12 in [0, 360), as filmed."""
        level, plumb = self.flat(b, t) - self.flat(a, t)
        return float(np.degrees(np.arctan2(level * self.goal_right, plumb)) % 360)

    def turn(self, a: str, b: str, since: float, t: float) -> float:
        """How far a→b has turned about the vertical, a magnitude of 0 to 180."""
        then, now = (self.world(b, s) - self.world(a, s) for s in (since, t))
        return _between(then[[0, 2]], now[[0, 2]])

    def path(self, mark: str, times: Points) -> float:
        """Length of the chords between the places at these moments."""
        places = np.array([self.flat(mark, float(t)) for t in times])
        return float(np.linalg.norm(np.diff(places, axis=0), axis=1).sum())

    def speed(self, mark: str, t: float, side: int = 0, step: float = 1e-5) -> float:
        """Speed in the subject plane; side −1 before t only, +1 after t only, as near impact."""
        before, after = (t - step if side <= 0 else t), (t + step if side >= 0 else t)
        moved = self.flat(mark, after) - self.flat(mark, before)
        return float(np.linalg.norm(moved)) / (after - before)

    def circle(self, mark: str, times: Points) -> tuple[Points, float]:
        """(centre, radius): the circle with the least squared distances from the places at these moments."""
        places = np.array([self.flat(mark, float(t)) for t in times])

        def miss(p: Points) -> Points:
            return np.asarray(np.hypot(*(places - p[:2]).T) - p[2])

        middle = places.mean(axis=0)
        start = [*middle, float(np.hypot(*(places - middle).T).mean())]
        fit = least_squares(miss, start, xtol=1e-14, ftol=1e-14, gtol=1e-14).x
        return np.asarray(fit[:2]), float(abs(fit[2]))

    def centre_of_mass(self, t: float) -> Points:
        """(level, plumb) of the body's centre of mass in the subject plane."""
        p = {name: self.flat(name, t) for name in self.where(t)}
        total = HEAD_MASS * p["head"]
        total = total + TRUNK_MASS / 4 * (
            p["lead-shoulder"] + p["trail-shoulder"] + p["lead-hip"] + p["trail-hip"]
        )
        for side in ("lead", "trail"):
            for near, far, mass, share in SEGMENTS.values():
                start, end = p[f"{side}-{near}"], p[f"{side}-{far}"]
                total = total + mass * (start + share * (end - start))
            total = total + HAND_MASS * (0.5 * p[f"{side}-wrist"] + 0.5 * p["implement-grip"])
        return np.asarray(total)

    def balance(self, t: float) -> float:
        """Where the centre of mass is between the trail ankle (0) and the lead ankle (100), per cent."""
        trail, lead = (self.flat(f"{side}-ankle", t)[0] for side in ("trail", "lead"))
        return float(100 * (self.centre_of_mass(t)[0] - trail) / (lead - trail))

    def instead(self, v: str, b: str, of: str, to: float, t: float, along: str = "chord") -> float:
        """How far b would move if v→b were `to` degrees from v→of, on the side where it is now."""
        segment = self.flat(b, t) - self.flat(v, t)
        turned = np.radians(abs(to - _between(self.flat(of, t) - self.flat(v, t), segment)))
        length = float(np.linalg.norm(segment))
        return float(length * turned if along == "arc" else 2 * length * np.sin(turned / 2))


def truth_of(swinger: Swinger, camera: Camera, view: View = "face-on") -> Truth:
    """The truth of a swinger's clip, with the middles that the studio's cards name."""
    middles = {"pelvis": ("trail-hip", "lead-hip"), "stance": ("trail-ankle", "lead-ankle")}
    return Truth(lambda t: marks_at(swinger, t), camera, view, swinger.hand, middles)


def _along(vector: Points, axis: str) -> float:
    if axis == "straight":
        return float(np.linalg.norm(vector))
    return float(vector[0 if axis == "level" else 1])


def _between(a: Points, b: Points) -> float:
    cross, dot = a[0] * b[1] - a[1] * b[0], float(a @ b)
    return float(np.degrees(np.abs(np.arctan2(cross, dot))))
