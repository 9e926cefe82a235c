"""What a loop's video costs with each setting of the encoder: python -m tests.bench.loops [VIDEO]

Pictures of one of the demo's films, or of the film named, at the size of a loop. Each line gives bytes and
time against the setting as it is, and how alike the pictures are to those that were encoded: mean structural
similarity of the luma, as in `encoders.py`. Ratios only.
"""

from __future__ import annotations

import io
import sys
import time
from pathlib import Path

import av
import numpy as np
from numpy.typing import NDArray
from PIL import Image
from skimage.metrics import structural_similarity

from lessonpress.footage.video import filmstrip
from lessonpress.footage.video.opening import opened
from tests.bench.encoders import DEMO

FILM = DEMO / "dune-face-on" / "dune-face-on.mp4"
SIZE = (600, 668)  # px
PICTURES = 30
AS_IT_IS = (filmstrip.SETTINGS["preset"], filmstrip.SETTINGS["crf"])
SETTINGS = [(preset, crf) for preset in ("veryfast", "fast", "medium", "slow") for crf in ("22", "24", "26")]

Pictures = list[NDArray[np.uint8]]


def pictures(video: Path) -> Pictures:
    """From the middle of the film, where most moves."""
    with opened(video) as (container, stream):
        every = [frame.to_ndarray(format="rgb24") for frame in container.decode(stream)]
    first = max(0, (len(every) - PICTURES) // 2)
    return [np.asarray(Image.fromarray(one).resize(SIZE)) for one in every[first : first + PICTURES]]


def tried(setting: tuple[str, str], shown: Pictures) -> tuple[int, float, float]:
    """Bytes, seconds of the processor, likeness."""
    preset, crf = setting
    filmstrip.SETTINGS.update(preset=preset, crf=crf)
    begun = time.process_time()
    film = filmstrip.encoded_loop(shown, [1 / 30] * len(shown), SIZE)
    taken = time.process_time() - begun
    with av.open(io.BytesIO(film)) as container:
        seen = [frame.to_ndarray(format="gray") for frame in container.decode(video=0)]
    alike = [
        structural_similarity(_luma(one), other, data_range=255)
        for one, other in zip(shown[::5], seen[::5], strict=True)
    ]
    return len(film), taken, float(np.mean(alike))


def _luma(picture: NDArray[np.uint8]) -> NDArray[np.uint8]:
    """As the video holds it."""
    frame = filmstrip._frame(picture, 0.0)
    return frame.to_ndarray(format="gray")


def main(named: list[str]) -> None:
    shown = pictures(Path(named[0]) if named else FILM)
    size, seconds, _ = tried(AS_IT_IS, shown)
    print("| preset | crf | bytes | time | likeness |")
    print("| --- | --- | --- | --- | --- |")
    for preset, crf in SETTINGS:
        found = tried((preset, crf), shown)
        row = f"{found[0] / size:.2f} | {found[1] / seconds:.2f} | {found[2]:.4f}"
        print(f"| {preset} | {crf} | {row} |", flush=True)


if __name__ == "__main__":
    main(sys.argv[1:])
