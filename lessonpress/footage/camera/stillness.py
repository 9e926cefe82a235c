"""Whether the camera was still, judged by the room in its pictures.

A hand carries a camera about by centimetres and turns it by tenths of a degree, which moves the room by whole
pixels; a camera on a stand moves it by less than shows above noise. Between the two lies LIMIT. A camera
that was carried aside and turned back so that the middle of a wall stayed in its place is found by the
picture's corners, where the two do not make up for each other.
"""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np

from lessonpress.footage.camera.motion import CameraMotion, Registration, Unregistered

LIMIT = 0.25 / 720  # of the picture's shorter side: a sixth of what a click may be off (own choice)
LEAST_SEEN = 0.5  # of the pictures that must show enough of the room


def judged(motion: CameraMotion) -> CameraMotion:
    """The motion as it was found, or model "still" where no picture of the room moved by more than LIMIT.

    Each picture then lies on the reference as it is, with how far it was found from there, and how well that
    is known, as its standard uncertainty. A picture that could not be registered stays so: what the camera
    did there was not seen.
    """
    limit = LIMIT * min(motion.size)
    offs: dict[int, float] = {}
    for frame, registration in motion.frames.items():
        if isinstance(registration, Unregistered) or frame == motion.reference:
            continue
        way, u = _way(motion, registration), _u(motion, frame)
        if max(way, u) > limit:
            return motion
        offs[frame] = math.hypot(way, u)
    if not offs or len(offs) + 1 < LEAST_SEEN * len(motion.frames):
        return motion
    upright = tuple(float(number) for number in np.eye(3).ravel())
    frames = {
        frame: replace(registration, matrix=upright, residual=offs.get(frame, 0.0))
        if isinstance(registration, Registration)
        else registration
        for frame, registration in motion.frames.items()
    }
    return replace(motion, model="still", frames=frames)


def _way(motion: CameraMotion, registration: Registration) -> float:
    """The greatest way, px, of the picture's corners and middle from where they are in the reference."""
    return replace(motion, frames={0: registration}).furthest


def _u(motion: CameraMotion, frame: int) -> float:
    """How well the picture's middle is carried to the reference, px."""
    u = motion.uncertainty(frame, (motion.size[0] / 2, motion.size[1] / 2))
    return math.inf if isinstance(u, Unregistered) else u
