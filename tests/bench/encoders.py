"""What a published picture costs in each format: python -m tests.bench.encoders [VIDEO…]

Pictures of the demo's films, or of those named, are scaled to the widths that pages show and written with
each setting. Each line gives the bytes against WebP as the site writes it today, the time likewise, and how
alike the picture is to the one that was written, the mean of all pictures and the worst of them: structural
similarity of the luma (Z. Wang, A. C. Bovik, H. R. Sheikh and E. P. Simoncelli, Image quality assessment,
IEEE Trans. Image Processing 13, 2004). Ratios only: seconds depend on the machine.
"""

from __future__ import annotations

import io
import sys
import time
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path

import numpy as np
from numpy.typing import NDArray
from PIL import Image
from skimage.metrics import structural_similarity

from lessonpress.footage.video.opening import opened
from lessonpress.press.pictures import METHOD, QUALITY

WIDTHS = (480, 800)  # px: what a phone and a desk load, of the widths that pages offer
SHOTS = 3  # of each film, spread over it
TIMES = 2  # each is written so often; the least time counts
DEMO = Path(__file__).parents[2] / "content" / "clips"


@dataclass(frozen=True)
class Setting:
    """How a picture is written. options: as Pillow takes them."""

    format: str
    options: tuple[tuple[str, int], ...]

    def written(self, picture: Image.Image) -> bytes:
        held = io.BytesIO()
        picture.save(held, self.format, **dict(self.options))
        return held.getvalue()

    def __str__(self) -> str:
        return f"{self.format} " + ", ".join(f"{name} {value}" for name, value in self.options)


TODAY = Setting("WEBP", (("quality", QUALITY), ("method", METHOD)))
SETTINGS = (
    TODAY,
    *(
        Setting("WEBP", (("quality", quality), ("method", method)))
        for method in (2, 4, 6)
        for quality in (75, 78, 82)
        if (quality, method) != (QUALITY, METHOD)
    ),
    *(
        Setting("AVIF", (("quality", quality), ("speed", speed), ("max_threads", 1)))
        for speed in (6, 8, 9)
        for quality in (55, 65, 75)
    ),
)


@dataclass(frozen=True)
class Tried:
    """One picture by one setting. seconds: of the processor."""

    size: int
    seconds: float
    alike: float


def pictures(videos: Sequence[Path]) -> Iterator[Image.Image]:
    for video in videos:
        for whole in _shots(video):
            for width in WIDTHS:
                size = (width, round(width * whole.height / whole.width))
                yield whole.resize(size, Image.Resampling.LANCZOS)


def _shots(video: Path) -> Iterator[Image.Image]:
    with opened(video) as (container, stream):
        frames = [frame.to_ndarray(format="rgb24") for frame in container.decode(stream)]
    for k in range(SHOTS):
        yield Image.fromarray(frames[(2 * k + 1) * len(frames) // (2 * SHOTS)])


def tried(setting: Setting, picture: Image.Image) -> Tried:
    taken = []
    for _ in range(TIMES):
        begun = time.process_time()
        data = setting.written(picture)
        taken.append(time.process_time() - begun)
    with Image.open(io.BytesIO(data)) as seen:
        alike = structural_similarity(_luma(picture), _luma(seen), data_range=255)
    return Tried(len(data), min(taken), float(alike))


def _luma(picture: Image.Image) -> NDArray[np.uint8]:
    return np.asarray(picture.convert("L"))


def main(named: Sequence[str]) -> None:
    shown = list(pictures([Path(name) for name in named] or sorted(DEMO.glob("*/*.mp4"))))
    today = [tried(TODAY, picture) for picture in shown]
    print(f"{len(shown)} pictures, {sum(one.size for one in today) / len(shown) / 1000:.1f} kB each today")
    print("| setting | bytes | time | likeness, mean | worst |")
    print("|---|---|---|---|---|")
    for setting in SETTINGS:
        found = today if setting is TODAY else [tried(setting, picture) for picture in shown]
        size = sum(one.size for one in found) / sum(one.size for one in today)
        seconds = sum(one.seconds for one in found) / sum(one.seconds for one in today)
        alike = [one.alike for one in found]
        print(
            f"| {setting} | {size:.2f} | {seconds:.2f} | {np.mean(alike):.4f} | {min(alike):.4f} |",
            flush=True,
        )


if __name__ == "__main__":
    main(sys.argv[1:])
