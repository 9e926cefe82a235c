"""Everything that playing a clip once gives: picture times, repeated pictures, camera motion."""

from __future__ import annotations

import json
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path

from lessonpress.footage.camera.hulls import Points
from lessonpress.footage.camera.motion import CameraMotion, camera_motion
from lessonpress.footage.camera.stillness import judged
from lessonpress.footage.timing.repeats import find_repeats
from lessonpress.footage.video.failure import FootageError
from lessonpress.footage.video.index import ClipIndex
from lessonpress.footage.video.opening import EXPORT_AGAIN
from lessonpress.footage.video.pictures import take_greys, take_pictures


@dataclass(frozen=True)
class Handheld:
    """What camera motion is to be found from: the picture all others are carried to, the subject's marks."""

    reference: int
    masks: Mapping[int, Points]


@dataclass(frozen=True)
class Study:
    """repeats: frames that show the picture before again. motion: None where the card says it was still."""

    index: ClipIndex
    repeats: tuple[int, ...] = ()
    motion: CameraMotion | None = None

    def to_json(self) -> str:
        motion = None if self.motion is None else self.motion.to_json()
        return json.dumps({"index": self.index.to_json(), "repeats": self.repeats, "motion": motion})

    @classmethod
    def from_json(cls, text: str) -> Study:
        """The study from its own JSON text. Raises ValueError, KeyError or TypeError for anything else."""
        raw = json.loads(text)
        motion = None if raw["motion"] is None else CameraMotion.from_json(raw["motion"])
        return cls(ClipIndex.from_json(raw["index"]), tuple(raw["repeats"]), motion)


def study_video(path: Path, index: ClipIndex, *, deinterlace: bool, handheld: Handheld | None) -> Study:
    """Play the clip for its repeats, and once more for its camera's motion unless the card says it was still.

    Raises FootageError where damaged frames hide what is asked: which pictures are repeated, and with it the
    times of all, or how the camera's picture of reference looked.
    """
    intact = index.intact(deinterlace=deinterlace)
    repeats = find_repeats(take_greys(path, index, intact, deinterlace=deinterlace)).frames
    if repeats and index.damaged:
        raise FootageError(
            f"{path.name} repeats pictures, and of its damaged ones it cannot be said which are repeats",
            EXPORT_AGAIN,
        )
    if handheld is None:
        return Study(index, repeats)
    if handheld.reference not in intact:
        raise FootageError(
            f"frame {handheld.reference} of {path.name} is damaged, and the camera's motion is found from it",
            EXPORT_AGAIN,
        )
    pictures = take_pictures(path, index, intact, deinterlace=deinterlace)
    return Study(index, repeats, judged(camera_motion(pictures, handheld.reference, handheld.masks)))
