"""Swingers drawn at random between and beyond the two: other bodies, other proportions, the same swing again.

They share the two swingers' key poses, from Shingle's way to Dune's, and differ in build, posture, turn and
swing plane.
"""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np

from tests.studio.body import Key, Proportions, Swinger
from tests.studio.swingers import DUNE, practised

SPREADS = {"shoulders": 0.05, "hips": 0.08, "upper_arm": 0.04, "forearm": 0.04, "thigh": 0.03, "shank": 0.03}
EVENTS = ("setup", "top", "impact")
# Of one swing against a golfer's usual one: fractions of stature, and degrees (own choice; the program's
# word for it, `measure/second/spread.py`, is in inches at each mark and knows nothing of these).
AGAIN_BODY, AGAIN_TURN, AGAIN_ARM, AGAIN_CLUB, AGAIN_PLANE, AGAIN_STANCE = 0.007, 2.5, 2.0, 3.0, 1.5, 0.007


def another_body(rng: np.random.Generator) -> Swinger:
    """A swinger between the two drawn ones, grown, bent, turned and planed otherwise; Dune's pace."""
    model = practised(float(rng.uniform(0, 1)))
    stature = float(rng.uniform(1.60, 1.90))
    grown = stature / model.stature
    lean, seat = rng.normal(0, 0.012, 2), float(rng.normal(0, 0.008))
    turn, plane = float(rng.uniform(0.88, 1.03)), float(rng.normal(0, 3))

    def posed(key: Key) -> Key:
        return replace(
            key,
            c7=(key.c7[0] + lean[0], key.c7[1], key.c7[2] + lean[1]),
            pelvis=(key.pelvis[0], key.pelvis[1], key.pelvis[2] + seat),
            pelvis_turn=key.pelvis_turn * turn,
            chest_turn=key.chest_turn * turn,
            club_plane=key.club_plane + plane,
        )

    return replace(
        model,
        name="Another",
        hand="right",
        stature=stature,
        club_length=model.club_length * grown,
        ball=(model.ball[0] * grown, model.ball[1] * grown),
        backswing=DUNE.backswing,
        downswing=DUNE.downswing,
        lead_in=DUNE.lead_in,
        keys=tuple(posed(key) for key in model.keys),
    )


def swung_again(body: Swinger, rng: np.random.Generator, unlike: float = 1.0) -> Swinger:
    """Another swing of the same body: steps up anew, turns and swings a little otherwise.

    unlike: by what its swings differ more than they do by the numbers above. What differs at one key differs
    likewise at the next. Drawn anew while a limb would be out of reach.
    """
    for _ in range(200):
        other = _again(body, rng, unlike)
        try:
            poses = [other.motion.pose(other.events[event]) for event in EVENTS]
        except (ValueError, np.linalg.LinAlgError):
            continue
        if all(
            pose.strain <= max(1.0, body.motion.pose(body.events[event]).strain)
            for event, pose in zip(EVENTS, poses, strict=True)
        ):
            return other
    raise ValueError(f"{body.name} cannot swing otherwise")


def _again(body: Swinger, rng: np.random.Generator, unlike: float) -> Swinger:
    common, own = rng.normal(0, unlike / math.sqrt(2), 14), rng.normal(0, unlike / math.sqrt(2), (3, 14))

    def at(stage: float) -> np.ndarray:
        """Of the whole swing, and of what changes between setup, the top and impact on."""
        return common + np.array([np.interp(stage, (0, 1, 2), column) for column in own.T])

    def swung(key: Key) -> Key:
        off = at(key.stage)
        loose = 0.4 if key.stage in (0, 2) else 1.0  # hands and club are surest at setup and at the ball
        arm = np.array(key.arm) / np.linalg.norm(key.arm) + loose * math.radians(AGAIN_ARM) * off[8:11]
        return replace(
            key,
            pelvis=tuple(np.array(key.pelvis) + AGAIN_BODY * off[0:3] * (1, 0.3, 1)),
            c7=tuple(np.array(key.c7) + AGAIN_BODY * off[3:6] * (1, 0.5, 1)),
            pelvis_turn=key.pelvis_turn + AGAIN_TURN * off[6],
            chest_turn=key.chest_turn + AGAIN_TURN * off[7],
            arm=tuple(arm),
            club=key.club + loose * AGAIN_CLUB * off[11],
            club_plane=key.club_plane + loose * AGAIN_PLANE * off[12],
        )

    wider = body.stance * (1 + 0.02 * float(rng.normal(0, unlike)))
    ball = np.array(body.ball) + AGAIN_STANCE * body.stature * rng.normal(0, unlike, 2)
    return replace(
        body, keys=tuple(swung(key) for key in body.keys), stance=wider, ball=(float(ball[0]), float(ball[1]))
    )


def of_other_proportions(body: Swinger, rng: np.random.Generator) -> Swinger:
    """The same swing of a body whose parts are longer or shorter than its stature says.

    Spreads as those that are left among people of one stature (a published survey, ANSUR II, from memory).
    Drawn anew while a limb would be out of reach at an event.
    """
    for _ in range(200):
        drawn = {name: getattr(Proportions, name) * rng.normal(1, u) for name, u in SPREADS.items()}
        other = replace(body, proportions=Proportions(**drawn))
        try:
            poses = [other.motion.pose(other.events[event]) for event in EVENTS]
        except (ValueError, np.linalg.LinAlgError):
            continue
        if all(pose.strain <= 1 for pose in poses):
            return other
    raise ValueError(f"no proportions let {body.name} reach the ball")
