"""What one clip shows by itself: its marks as inputs, its lens, its solved camera, its own depths."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import replace

import numpy as np

from lessonpress.measure.body.definition import BODY_U, seen_size
from lessonpress.measure.body.depths import Depths, Span
from lessonpress.measure.camera.pinhole import Pose
from lessonpress.measure.camera.poses import Poses
from lessonpress.measure.camera.solving import solved_camera
from lessonpress.measure.camera.sway import Sway
from lessonpress.measure.formulas.arrays import FloatArray, Pair
from lessonpress.measure.inputs.observations import Observations
from lessonpress.measure.inputs.setting import At, Lens, Setting
from lessonpress.measure.optics.bend import refused as lens_refused
from lessonpress.measure.optics.lens import optics_of
from lessonpress.measure.uncertainty.propagation import Model, Values
from lessonpress.measure.uncertainty.quantities import SharedInputs
from lessonpress.measure.uncertainty.refusal import Refusal
from lessonpress.records import Observation


class Sight:
    """One clip made ready: its inputs, then its optics, its camera. Each is made of those before it.

    seen_size: about how many px a metre of the golfer is, or None. refused: why nothing at all can be
    measured, or None.
    """

    def __init__(self, setting: Setting, observations: Iterable[Observation]) -> None:
        unusable = lens_refused(setting.lens)
        if unusable is not None:  # drawn as if the lens were straight, measured not at all
            setting = replace(setting, lens=Lens(centre=setting.lens.centre))
        self.setting = setting
        self.inputs = SharedInputs()
        placed = tuple(observations)
        self.seen_size = seen_size(setting, placed)
        self.observations = Observations(setting, placed, BODY_U * (self.seen_size or 0.0))
        self.optics = optics_of(self.observations, self.inputs)
        self.refused = self.optics.refused if unusable is None else unusable  # a refusal is false
        self.depths = Depths(setting, self.observations.rests)
        self.sway = Sway(setting)
        self.camera = solved_camera(setting, self.optics, self.depths, self.sway, self.inputs)
        self.poses = Poses(self.camera.solver, self.inputs)
        self.best = self.poses.best

    @property
    def pose(self) -> Pose:
        """The solved camera at the best values, arrays of one element."""
        return self.poses.of(self.best)

    @property
    def metric(self) -> bool:
        """Whether room coordinates are true metres; without a scale only their ratios are meant."""
        return self.lengths_refused is None

    @property
    def lengths_refused(self) -> Refusal | None:
        """Why this clip gives no lengths, or None. (A refusal is false: compare it with None.)"""
        return self.camera.refused if self.refused is None else self.refused

    @property
    def still(self) -> bool:
        """Whether the camera stood still, by the card or by the pictures."""
        motion = self.setting.motion
        return self.setting.camera.still or (motion is not None and motion.still)

    def in_plane(self, at: At, values: Values) -> Pair:
        """Where the ray through a mark meets the subject plane, m: toward the goal, and up."""
        right, up = self.poses.of(values).placed(*self.optics.offset(at, values), np.zeros(1))
        return self.setting.positive_right * right, up

    def depth_alone(
        self,
        at: At,
        values: Values,
        pose: Pose,
        span: Span | None = None,
        seen: Mapping[int, Model] | None = None,
    ) -> FloatArray:
        """Depth of one mark toward the camera, m: the card's, a scale's, the room's or the posture's.

        seen: depths along a motion that other swings show, by frame.
        """
        if at.mark not in self.setting.depth:
            scales = self.camera.solver.scales
            scale = next((one for one in scales if at.mark in one.marks and one.scale.frame is None), None)
            if scale is not None:
                return scale.depth(at.mark, pose.distance, values)
            if at.mark in self.setting.room:
                return np.zeros_like(pose.distance)
        return self.depths.of(at.mark, at.frame, values, span, seen or {})
