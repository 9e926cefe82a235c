"""What a camera in the hand does beyond what the background can show: it moves as well as turns.

What the background's motion carries is right for the background. A camera that moved aside by t shows a plane
at distance z shifted against a background at W by t (1 − z/W), from similar triangles; one that moved
ahead by t shows it larger by t (1/z − 1/W). 5 cm at 14 ft before a wall at 20 ft: 0.6 in.

A known length that is placed on another picture than the reference is seen by a camera that had moved too,
and looks larger by the same (`larger`); what moves it aside moves both its ends alike. Where a length is
measured on the picture of its scale, both share one input, and it falls out.
"""

from __future__ import annotations

import numpy as np

from lessonpress.measure.camera.scales import wall_distance
from lessonpress.measure.formulas.arrays import FloatArray, Pair
from lessonpress.measure.inputs.setting import Setting
from lessonpress.measure.uncertainty.propagation import Values
from lessonpress.measure.uncertainty.quantities import limited
from lessonpress.measure.uncertainty.refusal import RefusedError

SWAY = 0.05  # m: how far a camera held in the hand may move, each way
WAYS = (("x", "aside"), ("y", "up or down"), ("z", "to and fro"))


class Sway:
    """The camera's own movement against its place at the reference frame, as inputs for each frame."""

    def __init__(self, setting: Setting) -> None:
        self.setting = setting

    @property
    def _known(self) -> bool:
        return self.setting.camera.distance is not None and self.setting.camera.wall is not None

    def check(self) -> None:
        """Refuses when the card's distances do not say what the camera's own movement could do."""
        if self._moves and not self._known:
            raise RefusedError(
                "the room moves in the pictures as for a camera held by hand, and without the camera's "
                "distances it is not known what that did: 5 cm at 14 ft before a wall at 20 ft are 0.6 in",
                "add distance and wall under camera on the card; or, if it stood on a tripod and what is "
                "behind the golfer moved, write still: true there",
            )

    def moved(
        self, placed: Pair, ahead: FloatArray, frame: int, values: Values, span: tuple[int, int] | None
    ) -> Pair:
        """A point with what the camera's sway may have done to it.

        placed: x to the right and y up, m. ahead: its level distance from the lens, m. frame: its picture.
        """
        if not self._moves:
            return placed
        larger = self.larger(ahead, frame, values, span)
        if not self._known:  # several pictures are refused then; on one, all points move aside alike
            return placed[0] * larger, placed[1] * larger
        aside, up = (self._at(way, words, frame, values, span) for way, words in WAYS[:2])
        lag = 1 - ahead / values[wall_distance(self.setting)]
        return placed[0] * larger + aside * lag, placed[1] * larger + up * lag

    def larger(
        self, ahead: FloatArray, frame: int, values: Values, span: tuple[int, int] | None = None
    ) -> FloatArray:
        """By what factor things at a level distance from the lens, m, look larger than the background shows.

        Without the card's distance of the wall it is taken for far away, where it differs most.
        """
        if not self._moves:
            return np.ones_like(ahead)
        fro = self._at(*WAYS[2], frame, values, span)
        wall = self.setting.camera.wall
        beyond = 0.0 if wall is None else 1 / values[wall_distance(self.setting)]
        return np.asarray(1 + fro * (1 / ahead - beyond))

    @property
    def _moves(self) -> bool:
        motion = self.setting.motion
        return motion is not None and not motion.still and not self.setting.camera.still

    def _at(
        self, way: str, words: str, frame: int, values: Values, span: tuple[int, int] | None
    ) -> FloatArray:
        """Sway at a frame: its own unknown, or along a motion straight between those of the motion's ends."""
        if span is None or span[0] == span[1]:
            return self._own(way, words, frame, values)
        part = (frame - span[0]) / (span[1] - span[0])
        first, last = (self._own(way, words, end, values) for end in span)
        return np.asarray(first + part * (last - first))

    def _own(self, way: str, words: str, frame: int, values: Values) -> FloatArray:
        sway = SWAY if self.setting.sway is None else self.setting.sway
        if self.setting.motion is not None and frame == self.setting.motion.reference:
            sway = 0.0
        name = f"{self.setting.clip}/sway/{frame}/{way}"
        assumption = "camera held by hand: sway within 5 cm" if self.setting.sway is None else ""
        return values[limited(name, f"sway of the camera {words}, frame {frame}", 0.0, sway, "m", assumption)]
