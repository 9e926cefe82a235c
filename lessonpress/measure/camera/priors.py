"""What is known of a camera before anything is solved: its roll, pitch, focal length and distance."""

from __future__ import annotations

import math
from dataclasses import dataclass

from lessonpress.measure.inputs.setting import ASSUMED_FOCAL, Setting
from lessonpress.measure.uncertainty.quantities import Quantity, limited

ROLL_U = 2.0  # deg, without a plumb line
PITCH_U = 3.0  # deg, where plumb lines do not give it
DISTANCE, DISTANCE_U, LEAST_DISTANCE = 4.0, 1.0, 1.5  # m, where the card has none
DISTANCE_WITHIN = 0.05  # of a stated distance whose limits are not
FOCAL_U = 0.02  # of a stated focal length
ASSUMED_FOCAL_U = 0.2  # of the picture's longer side


@dataclass(frozen=True)
class Priors:
    """roll, pitch: rad. focal: px, None where the card has none. assumed_focal: px. distance: m."""

    roll: Quantity
    pitch: Quantity
    focal: Quantity | None
    assumed_focal: Quantity
    distance: Quantity


def priors_of(setting: Setting, plumb_lines: int) -> Priors:
    """What a card says or leaves to be assumed. plumb_lines: how many its pictures show."""
    clip, focal = setting.clip, setting.lens.focal
    roll_u = 0.0 if setting.view == "overhead" else math.radians(ROLL_U)
    return Priors(
        roll=Quantity(
            f"{clip}/roll",
            "roll of the camera",
            0.0,
            roll_u,
            "rad",
            assumption=f"no plumb line: roll 0°, u {ROLL_U:.0f}°",
        ),
        pitch=_pitch(clip, plumb_lines),
        focal=None if focal is None else _stated_focal(clip, focal),
        assumed_focal=_assumed_focal(clip, max(setting.size)),
        distance=_distance(setting),
    )


def _pitch(clip: str, plumb_lines: int) -> Quantity:
    lines = {0: "no plumb line", 1: "one plumb line"}.get(plumb_lines, "plumb lines too close together")
    assumption = f"{lines}: pitch 0°, u {PITCH_U:.0f}°"
    u = math.radians(PITCH_U)
    return Quantity(f"{clip}/pitch", "pitch of the camera", 0.0, u, "rad", assumption=assumption)


def _stated_focal(clip: str, focal: float) -> Quantity:
    return Quantity(f"{clip}/focal", "focal length", focal, FOCAL_U * focal, "px")


def _assumed_focal(clip: str, longer: int) -> Quantity:
    value, u = ASSUMED_FOCAL * longer, ASSUMED_FOCAL_U * longer
    return Quantity(
        f"{clip}/assumed-focal",
        "focal length, assumed",
        value,
        u,
        "px",
        lowest=0.4 * longer,
        assumption=f"focal length {value:.0f} px, u {u:.0f} px",
    )


def _distance(setting: Setting) -> Quantity:
    name, words = f"{setting.clip}/distance", "distance from the lens to the subject plane"
    stated, within = setting.camera.distance, setting.camera.within
    if stated is None:
        return Quantity(
            f"{name}/assumed",
            f"{words}, assumed",
            DISTANCE,
            DISTANCE_U,
            "m",
            lowest=LEAST_DISTANCE,
            assumption=f"camera distance {DISTANCE:.0f} m, u {DISTANCE_U:.0f} m",
        )
    if within is None:
        assumption = "camera distance within 5 %"
        return limited(name, words, stated, DISTANCE_WITHIN * stated, "m", assumption)
    return limited(name, words, stated, within, "m")
