"""How the time to place labels grows with their number: python -m tests.bench.placing

Notes lie at random places of one picture (seeded). Each line gives the processor's time against that of ten
notes in the same run, and the exponent of growth since the line before: 1 where twice the notes take twice
the time. What counts is the last column; seconds depend on the machine.
"""

from __future__ import annotations

import math
import random
import time
from itertools import islice

import numpy as np

from lessonpress.drawing.tags.ground import Ground
from lessonpress.drawing.tags.placing import Wanted, place_tags
from lessonpress.drawing.tags.tags import lettering
from lessonpress.figures.bind.lettering import letters
from lessonpress.overlays.shapes import Tag

COUNTS = (10, 40, 160, 640)
SIZES = {"phone": (360.0, 450.0), "desk": (640.0, 800.0)}  # CSS px
WORDS = ("head stays inside", "lead foot", "elbow in front of the hip")


def notes(count: int, size: tuple[float, float], seed: int = 1) -> tuple[list[Wanted], Ground]:
    """Notes of a few words at random places, and a ground on which each place is a mark."""
    chance = random.Random(seed)
    anchors = [(chance.uniform(0, size[0]), chance.uniform(0, size[1])) for _ in range(count)]
    wanted = [
        Wanted(lettering(letter, Tag(anchor, "black", words=chance.choice(WORDS))), anchor)
        for letter, anchor in zip(islice(letters(), count), anchors, strict=True)
    ]
    return wanted, Ground(*size, np.repeat(np.array(anchors), 2, axis=0))


def seconds(count: int, size: tuple[float, float]) -> float:
    """Processor seconds to place the notes, the least of three runs."""
    wanted, ground = notes(count, size)
    taken = []
    for _ in range(3):
        begun = time.process_time()
        place_tags(wanted, Ground(ground.width, ground.height, ground.busy))
        taken.append(time.process_time() - begun)
    return min(taken)


def main() -> None:
    for name, size in SIZES.items():
        print(f"{name}, {size[0]:g} × {size[1]:g} px")
        took = [seconds(count, size) for count in COUNTS]
        for k, count in enumerate(COUNTS):
            grows = math.log(took[k] / took[k - 1]) / math.log(count / COUNTS[k - 1]) if k else 1.0
            print(f"  {count:4} notes: {took[k] / took[0]:7.1f} times as long, growing as n^{grows:.2f}")


if __name__ == "__main__":
    main()
