"""Swings of many bodies, each with a card and marks that err as they state: one film serves them all.

Only the marks count for a number; the film gives the times.
"""

from __future__ import annotations

import shutil
from collections.abc import Iterator
from pathlib import Path

import numpy as np
import yaml

from tests.chain.asked import frame_of
from tests.chain.swing import RATE, WRIST
from tests.studio.body import Swinger
from tests.studio.camera import Camera, looking_at
from tests.studio.clip import WITHIN_CAMERA, MadeClip, make_clip, write_yaml
from tests.studio.room import INCH
from tests.studio.variation import another_body

STATURE_U = 0.02  # m: what a stated stature is good for
WITHIN_DEPTH = 3 * INCH


def another_camera(rng: np.random.Generator) -> Camera:
    """At a golfer's distance, about hip to chest high, not quite square before the golfer."""
    aside, high, far = rng.uniform(-0.15, 0.25), rng.uniform(0.9, 1.2), rng.uniform(4.0, 4.6)
    return looking_at((0.05, 0.92, 0.0), (0.05 + aside, high, far), Camera(focal=260 * far))


def other_bodies(root: Path, film: MadeClip, count: int) -> Iterator[tuple[int, MadeClip]]:
    """Seed and clip of as many bodies, one after the other in the same folder, their cards in error."""
    folder = root / "clips" / "another"
    folder.mkdir(parents=True)
    video = folder / film.video.name
    shutil.copy(film.video, video)
    for seed in range(count):
        rng = np.random.default_rng([seed, 17])
        body, camera = another_body(rng), another_camera(rng)
        clip = make_clip(root, body, camera, RATE, name="another", times=film.times, video=video, card={})
        _err(clip, rng, body)
        yield seed, clip


def _err(clip: MadeClip, rng: np.random.Generator, body: Swinger) -> None:
    """Write the card anew with what an author may have got wrong within its limits."""
    path = clip.folder / "clip.yaml"
    card = yaml.safe_load(path.read_text(encoding="utf-8"))
    card["stature"] = f"{(body.stature + rng.normal(0, STATURE_U)) / INCH:.2f} in"
    far = clip.camera.distance + rng.uniform(-WITHIN_CAMERA, WITHIN_CAMERA)
    card["camera"]["distance"] = f"{far:.3f} m"
    card["depth"] = {
        "lead-wrist": {
            instant: {
                "toward": f"{_depth(clip, instant) + rng.uniform(-WITHIN_DEPTH, WITHIN_DEPTH):.4f} m",
                "within": f"{WITHIN_DEPTH:.4f} m",
            }
            for instant in WRIST
        }
    }
    write_yaml(path, card)


def _depth(clip: MadeClip, instant: str) -> float:
    return clip.truth.depth("lead-wrist", float(clip.times[frame_of(clip, instant)]))
