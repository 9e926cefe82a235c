"""A drawn jointed figure whose every joint is known, in metres, at any moment of a swing.

Swing coordinates: x toward the target, y up, z to where the figure faces at setup (toward a face-on camera);
the origin lies on the floor midway between the ankles. A left-handed swinger has the same coordinates: the
mirror image comes in `camera.to_view`.

Segment lengths are fractions of stature after Drillis and Contini 1966 as given in Winter, Biomechanics and
Motor Control of Human Movement (from memory): shoulder breadth 0.259, hip breadth 0.191, upper arm 0.186,
forearm 0.146, hand 0.108, thigh 0.245, shank 0.246, foot 0.152, ankle height 0.039. Limb lengths hold exactly
at every moment; the spine may give by a few hundredths, as spines do.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, fields, replace
from functools import cached_property
from typing import Literal

import numpy as np
from numpy.typing import NDArray
from scipy.interpolate import PchipInterpolator

Vec = NDArray[np.float64]

SHOULDERS, HIPS = 0.259, 0.191
UPPER_ARM, FOREARM, HAND = 0.186, 0.146, 0.108
THIGH, SHANK, FOOT, ANKLE_HEIGHT = 0.245, 0.246, 0.152, 0.039
SPINE = 0.315  # middle of the hips to C7
HEEL_BACK, TOE_AHEAD = 0.042, 0.110  # of the ankle; their sum is the foot
BALL_RADIUS = 0.02134  # 1.68 in across, the least that the rules of golf allow


def vec(*xyz: float) -> Vec:
    return np.array(xyz, dtype=np.float64)


def unit(v: Vec) -> Vec:
    return np.asarray(v / math.sqrt(v.dot(v)))


def cross(a: Vec, b: Vec) -> Vec:
    """The vector product of two of three numbers. NumPy's own, for any shape, takes ten times as long."""
    return vec(a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0])


def square_to(v: Vec, axis: Vec) -> Vec:
    """The unit part of v at right angles to the unit vector axis."""
    return unit(v - axis * float(np.dot(v, axis)))


def joint(root: Vec, end: Vec, first: float, second: float, pole: Vec) -> tuple[Vec, float]:
    """The knee or elbow between root and end, bent toward pole, and the straightness (1 = fully stretched).

    Straightness over 1 means that the end is out of reach; the joint then lies on the line.
    """
    span = float(np.linalg.norm(end - root))
    along = (end - root) / span
    reach = min(span, 0.9999 * (first + second))
    across = (first**2 - second**2 + reach**2) / (2 * reach)
    height = np.sqrt(max(first**2 - across**2, 0.0))
    bend: Vec = root + along * across + square_to(pole, along) * height
    return bend, span / (first + second)


@dataclass(frozen=True)
class Key:
    """One key pose. Positions and reach are fractions of stature, angles degrees.

    turn: positive opens toward the target. tilt: lead side up. arm: way from the lead shoulder to the lead
    wrist, of any length; reach: 1 = lead arm straight. club: angle of the shaft from straight down in its
    plane, positive in the backswing; club_plane: how steep that plane is, 90 = upright.
    stage: 0 setup, 1 top, 2 impact, then seconds after impact + 2.
    """

    stage: float
    pelvis: tuple[float, float, float]
    pelvis_turn: float
    pelvis_tilt: float
    c7: tuple[float, float, float]
    chest_turn: float
    chest_tilt: float
    arm: tuple[float, float, float]
    club: float
    club_plane: float
    reach: float
    trail_toe: tuple[float, float]  # x, z
    trail_yaw: float  # of the foot from straight ahead, positive toward the target
    trail_lift: float  # the foot's slope, heel up
    look: tuple[float, float, float]
    lead_elbow: tuple[float, float, float]
    trail_elbow: tuple[float, float, float]
    lead_knee: tuple[float, float, float]
    trail_knee: tuple[float, float, float]


@dataclass(frozen=True)
class Pose:
    """The figure at one moment: joints in metres and the axes (unit vectors) that clothes hang on."""

    stature: float
    joints: dict[str, Vec]
    spine: Vec
    pelvis_lead: Vec
    pelvis_front: Vec
    chest_lead: Vec
    chest_front: Vec
    face: Vec
    head_up: Vec
    club: Vec
    clubface: Vec
    lead_toe_way: Vec
    trail_toe_way: Vec
    strain: float  # the greatest straightness of a limb; over 1 a hand or foot is out of reach
    spine_length: float  # fraction of stature


@dataclass(frozen=True)
class Proportions:
    """Lengths of the parts as fractions of stature."""

    shoulders: float = SHOULDERS
    hips: float = HIPS
    upper_arm: float = UPPER_ARM
    forearm: float = FOREARM
    thigh: float = THIGH
    shank: float = SHANK


@dataclass(frozen=True)
class Swinger:
    """An invented swinger: build, hand, club and key poses."""

    name: str
    hand: Literal["right", "left"]
    stature: float  # m
    girth: float  # 1 = slim; widths of the drawn body only
    club_length: float  # m, from the lead hand's middle to the middle of the head
    stance: float  # ankle to ankle, fraction of stature
    lead_flare: float  # degrees
    ball: tuple[float, float]  # x, z in m
    backswing: float  # s
    downswing: float  # s
    lead_in: float  # s of standing still before the swing starts
    keys: tuple[Key, ...]
    proportions: Proportions = Proportions()
    joined: tuple[float, float] | None = None  # s of backswing and downswing at which the keys are joined

    @property
    def events(self) -> dict[str, float]:
        """Seconds since the clip began."""
        top = self.lead_in + self.backswing
        impact = top + self.downswing
        return {
            "setup": self.lead_in,
            "top": top,
            "impact": impact,
            "finish": impact + self.through * (self.keys[-1].stage - 2),
        }

    @property
    def duration(self) -> float:
        return self.events["finish"] + 0.12 * self.through

    @property
    def through(self) -> float:
        """How much longer the way through takes than its keys say: as much as the downswing."""
        return self.downswing / self.joined[1] if self.joined else 1.0

    def joins(self, stage: float) -> float:
        """The seconds from setup at which a key pose is joined to its neighbours; stage as in `Key`."""
        backswing, downswing = self.joined or (self.backswing, self.downswing)
        if stage <= 1:
            return stage * backswing
        if stage <= 2:
            return backswing + (stage - 1) * downswing
        return backswing + downswing + stage - 2

    def joined_at(self, seconds: float) -> float:
        """Which moment of the joined keys is seen so many seconds into the clip.

        A swing that is swung at another pace than its keys were joined at shows the same poses in the same
        order: backswing and downswing are stretched, each by its own factor. So the pictures of a rendered
        swing serve for a slower one.
        """
        pace = [self.events[event] for event in ("setup", "top", "impact", "finish")]
        return float(np.interp(seconds, pace, [self.joins(s) for s in (0, 1, 2, self.keys[-1].stage)]))

    @cached_property
    def motion(self) -> Motion:
        return Motion(self)


def _flat(key: Key) -> Vec:
    return np.hstack([np.atleast_1d(np.asarray(getattr(key, f.name), dtype=float)) for f in fields(Key)[1:]])


def _key(stage: float, row: Vec) -> Key:
    values: list[object] = [stage]
    at = 0
    for f in fields(Key)[1:]:
        size = 2 if f.name == "trail_toe" else 3 if "tuple" in str(f.type) else 1
        part = [float(v) for v in row[at : at + size]]
        values.append(part[0] if size == 1 else tuple(part))
        at += size
    return Key(*values)  # type: ignore[arg-type]


class Motion:
    """Key poses joined into one smooth motion (monotone cubics: nothing overshoots between keys)."""

    def __init__(self, swinger: Swinger) -> None:
        self.swinger = swinger
        keys = [self._at_the_ball(key) if key.stage in (0, 2) else key for key in swinger.keys]
        self._times = np.array([swinger.joins(key.stage) for key in keys])
        self._curve = PchipInterpolator(self._times, np.array([_flat(key) for key in keys]), axis=0)
        self._posed: dict[float, Pose] = {}

    def key_at(self, t: float) -> Key:
        held = self.swinger.joined_at(t)
        return _key(held, self._curve(held))

    def pose(self, t: float) -> Pose:
        """Kept: a clip asks for the same moment for its picture, its marks and its truth."""
        if t not in self._posed:
            self._posed[t] = pose_of(self.swinger, self.key_at(t))
        return self._posed[t]

    def _at_the_ball(self, key: Key) -> Key:
        """The same key with arm and club_plane set (Newton's way) so that the clubhead is at the ball."""
        swinger = self.swinger
        wanted = vec(swinger.ball[0] - 0.034, 0.028, swinger.ball[1])
        unknown = np.array([key.arm[0], key.arm[2], key.club_plane])

        def tried(values: Vec) -> Key:
            return replace(
                key, arm=(float(values[0]), key.arm[1], float(values[1])), club_plane=float(values[2])
            )

        def miss(values: Vec) -> Vec:
            return np.asarray(pose_of(swinger, tried(values)).joints["implement-head"] - wanted)

        for _ in range(40):
            now = miss(unknown)
            if np.linalg.norm(now) < 1e-12:
                break
            slope = np.column_stack([(miss(unknown + step) - now) / 1e-4 for step in np.eye(3) * 1e-4])
            unknown = unknown - np.clip(np.linalg.solve(slope, now), [-0.1, -0.1, -5], [0.1, 0.1, 5])
        if np.linalg.norm(miss(unknown)) > 1e-6:
            raise ValueError(f"{swinger.name}: the club does not reach the ball at stage {key.stage}")
        return tried(unknown)


def _in_plane(angle: float, plane: float) -> Vec:
    """Direction at `angle` from straight down, positive away from the target, in a plane `plane` steep."""
    a, p = np.radians(angle), np.radians(plane)
    return np.asarray(np.cos(a) * vec(0, -np.sin(p), np.cos(p)) - np.sin(a) * vec(1, 0, 0))


def _across(turn: float, tilt: float, up: Vec) -> Vec:
    """Direction from the trail to the lead side of a pelvis or chest turned and tilted about `up`."""
    y = np.radians(turn)
    level = square_to(vec(np.cos(y), 0, -np.sin(y)), up)
    r = np.radians(tilt)
    return unit(level * np.cos(r) + up * np.sin(r))


def _foot(ankle: Vec, way: Vec, slope: float, h: float) -> tuple[Vec, Vec]:
    """Heel and toe of a foot that points `way` (level), its heel raised by `slope` degrees."""
    r = np.radians(slope)
    ahead = way * np.cos(r) + vec(0, -np.sin(r), 0)
    down = vec(0, -np.cos(r), 0) - way * np.sin(r)
    return (
        ankle - ahead * HEEL_BACK * h + down * (ANKLE_HEIGHT - 0.012) * h,
        ankle + ahead * TOE_AHEAD * h + down * (ANKLE_HEIGHT - 0.012) * h,
    )


def _level_way(yaw: float) -> Vec:
    return vec(np.sin(np.radians(yaw)), 0, np.cos(np.radians(yaw)))


def pose_of(swinger: Swinger, key: Key) -> Pose:
    """The whole figure from one row of key values."""
    h, parts = swinger.stature, swinger.proportions
    j: dict[str, Vec] = {}
    strains: list[float] = []
    pelvis, c7 = vec(*key.pelvis) * h, vec(*key.c7) * h
    spine = unit(c7 - pelvis)
    pelvis_up = unit(0.45 * vec(0, 1, 0) + 0.55 * spine)
    pelvis_lead = _across(key.pelvis_turn, key.pelvis_tilt, pelvis_up)
    pelvis_front = unit(cross(pelvis_lead, pelvis_up))
    chest_lead = _across(key.chest_turn, key.chest_tilt, spine)
    chest_front = unit(cross(chest_lead, spine))
    shoulders = c7 - 0.044 * h * spine + 0.034 * h * chest_front
    j["pelvis"], j["c7"], j["hub"] = pelvis, c7, shoulders
    j["navel"] = pelvis + h * (0.062 * pelvis_up + 0.058 * pelvis_front)
    for side, sign in (("lead", 1.0), ("trail", -1.0)):
        j[f"{side}-hip"] = pelvis + sign * parts.hips / 2 * h * pelvis_lead
        j[f"{side}-shoulder"] = shoulders + sign * parts.shoulders / 2 * h * chest_lead

    lead_way, trail_way = _level_way(swinger.lead_flare), _level_way(key.trail_yaw)
    j["lead-ankle"] = vec(swinger.stance / 2, ANKLE_HEIGHT, 0) * h
    j["lead-heel"], j["lead-toe"] = _foot(j["lead-ankle"], lead_way, 0.0, h)
    toe = vec(key.trail_toe[0], 0.012, key.trail_toe[1]) * h
    _, reach_of_toe = _foot(vec(0, 0, 0), trail_way, key.trail_lift, h)
    j["trail-ankle"] = toe - reach_of_toe
    j["trail-heel"], j["trail-toe"] = _foot(j["trail-ankle"], trail_way, key.trail_lift, h)
    for side, pole in (("lead", key.lead_knee), ("trail", key.trail_knee)):
        j[f"{side}-knee"], strain = joint(
            j[f"{side}-hip"], j[f"{side}-ankle"], parts.thigh * h, parts.shank * h, vec(*pole)
        )
        strains.append(strain)

    arm, club = unit(vec(*key.arm)), _in_plane(key.club, key.club_plane)
    full = (parts.upper_arm + parts.forearm) * h
    j["lead-wrist"] = j["lead-shoulder"] + arm * full * key.reach * 0.988
    j["lead-elbow"], strain = joint(
        j["lead-shoulder"], j["lead-wrist"], parts.upper_arm * h, parts.forearm * h, vec(*key.lead_elbow)
    )
    strains.append(strain)
    forearm = unit(j["lead-wrist"] - j["lead-elbow"])
    lead_hand = j["lead-wrist"] + 0.045 * h * unit(forearm + 0.55 * club)
    j["lead-hand"], j["implement-grip"] = lead_hand, lead_hand + 0.045 * club
    j["trail-hand"] = lead_hand + 0.088 * club
    guess = unit(
        j["trail-shoulder"] - j["trail-hand"] + 0.6 * h * parts.forearm * unit(vec(*key.trail_elbow))
    )
    j["trail-wrist"] = j["trail-hand"] + 0.042 * h * unit(guess - 0.35 * club)
    j["trail-elbow"], strain = joint(
        j["trail-shoulder"], j["trail-wrist"], parts.upper_arm * h, parts.forearm * h, vec(*key.trail_elbow)
    )
    strains.append(strain)
    j["implement-head"] = lead_hand + club * swinger.club_length
    j["implement-butt"] = lead_hand - club * 0.055

    neck = unit(0.62 * spine + 0.38 * vec(0, 1, 0))
    j["head"] = c7 + h * (0.083 * neck + 0.024 * chest_front * 0.4 + 0.012 * unit(vec(*key.look) * h - c7))
    # eyes turn farther than heads: the face follows the chest a little and hangs less than the look does
    look = unit(vec(*key.look) * h - j["head"])
    face = unit(look + 0.5 * chest_front + max(0.0, -float(look[1])) * vec(0, 0.55, 0.40))
    head_up = square_to(0.75 * spine + 0.4 * vec(0, 1, 0) - 0.1 * face, face)
    j["crown"] = j["head"] + 0.070 * h * unit(head_up - 0.35 * face)
    # the leading edge faces along the arc, square to the shaft
    clubface = square_to(cross(club, vec(0, 0, 1)) if abs(club[2]) < 0.95 else vec(1, 0, 0), club)
    return Pose(
        stature=h,
        joints=j,
        spine=spine,
        pelvis_lead=pelvis_lead,
        pelvis_front=pelvis_front,
        chest_lead=chest_lead,
        chest_front=chest_front,
        face=face,
        head_up=head_up,
        club=club,
        clubface=clubface,
        lead_toe_way=lead_way,
        trail_toe_way=trail_way,
        strain=max(strains),
        spine_length=float(np.linalg.norm(c7 - pelvis)) / h,
    )


def upright(swinger: Swinger) -> dict[str, Vec]:
    """Crown and heels of the swinger standing at full height, for a clip that begins so."""
    h = swinger.stature
    return {
        "crown": vec(0, h, 0),
        "lead-heel": vec(0.06 * h, 0, -HEEL_BACK * h),
        "trail-heel": vec(-0.06 * h, 0, -HEEL_BACK * h),
    }


def ball_at(swinger: Swinger, t: float) -> Vec:
    """Middle of the ball: at rest until impact, then off at 50 m/s, 18° up, toward the target.

    A swing at another pace than its keys were joined at sends it off so much slower or faster."""
    start = vec(swinger.ball[0], BALL_RADIUS, swinger.ball[1])
    flown = max(0.0, t - swinger.events["impact"]) / swinger.through
    return start + flown * 50.0 * vec(np.cos(np.radians(18)), np.sin(np.radians(18)), 0.0)


UNMARKED = ("pelvis", "hub", "lead-hand", "trail-hand", "implement-butt")


def marks_at(swinger: Swinger, t: float) -> dict[str, Vec]:
    """Every known mark, swing coordinates in m, t seconds after the clip began."""
    joints = swinger.motion.pose(t).joints
    marks = {name: at for name, at in joints.items() if name not in UNMARKED}
    return {**marks, "ball": ball_at(swinger, t)}


def tracks_of(swinger: Swinger, times: Sequence[float]) -> dict[str, Vec]:
    """Every known mark over many moments: name -> (n, 3) in m."""
    rows = [marks_at(swinger, float(t)) for t in times]
    return {name: np.array([row[name] for row in rows]) for name in rows[0]}
