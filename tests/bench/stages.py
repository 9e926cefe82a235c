"""What a press from nothing takes, stage by stage: python -m tests.bench.stages [SITE] [--workers N]

The site (the demo, if none is named) is copied without its cache and pressed. Each line gives a stage's
seconds by the clock and of the processor, and its share of all. A worker's processor time is known only when
it has ended, with the press: by stage it is given with --workers 1 alone. Then the most memory that this
process and any one of its workers held.
"""

from __future__ import annotations

import argparse
import os
import resource
import shutil
import tempfile
import time
from dataclasses import dataclass, field
from itertools import pairwise
from pathlib import Path

from lessonpress.press import press

DEMO = Path(__file__).parents[2] / "content"


@dataclass
class Stages:
    """Each stage that began, with the clock and the processor then, s."""

    begun: list[tuple[str, float, float]] = field(default_factory=list)

    def begin(self, stage: str, total: int | None = None) -> None:
        self.begun.append((stage, time.monotonic(), processor()))

    def step(self, count: int = 1) -> None:
        pass


def processor() -> float:
    """Seconds of this process and of those of its workers that have ended."""
    times = os.times()
    return times.user + times.system + times.children_user + times.children_system


def _most_memory() -> tuple[float, float]:
    """MB of this process and of its largest worker. Linux counts in KiB."""
    mine, workers = (resource.getrusage(who) for who in (resource.RUSAGE_SELF, resource.RUSAGE_CHILDREN))
    return mine.ru_maxrss / 1000, workers.ru_maxrss / 1000


def main() -> None:
    words = argparse.ArgumentParser(description=__doc__)
    words.add_argument("site", nargs="?", type=Path, default=DEMO)
    words.add_argument("--workers", type=int)
    asked = words.parse_args()
    stages = Stages()
    with tempfile.TemporaryDirectory() as folder:
        site = Path(folder) / "site"
        shutil.copytree(asked.site, site, ignore=shutil.ignore_patterns("build"))
        stages.begin("starting")
        pressed = press(site, site / "build" / "site", stages, workers=asked.workers)
        stages.begin("ended")
    begun = stages.begun
    whole = begun[-1][1] - begun[0][1]
    print("| stage | s | s of processor | share of the clock |")
    print("| --- | --- | --- | --- |")
    for (name, at, work), (_, then, worked) in pairwise(begun):
        print(f"| {name} | {then - at:.1f} | {worked - work:.1f} | {100 * (then - at) / whole:.0f} % |")
    print(f"| in all | {whole:.1f} | {begun[-1][2] - begun[0][2]:.1f} | 100 % |")
    mine, worker = _most_memory()
    print(
        f"\n{pressed.summary}; at most {mine:.0f} MB, a worker {worker:.0f} MB; load {os.getloadavg()[0]:.1f}"
    )


if __name__ == "__main__":
    main()
