"""Kills presses, saves, withdrawals and restorings at random moments; exit code 1 where one left harm."""

from __future__ import annotations

import argparse
import sys
import tempfile
from collections import Counter
from pathlib import Path

from tests.kills.kills import kill_at_random, works


def main() -> int:
    asked = argparse.ArgumentParser(prog="python -m tests.kills", description=__doc__)
    asked.add_argument("--times", type=int, default=100)
    asked.add_argument("--seed", type=int, default=1)
    given = asked.parse_args()
    counts: Counter[str] = Counter()
    harmed = 0
    with tempfile.TemporaryDirectory(prefix="kills-") as folder:
        for one in kill_at_random(works(Path(folder)), given.times, given.seed):
            counts[one.work] += 1
            harmed += bool(one.wrong)
            for wrong in one.wrong:
                print(f"{one.work} killed after {one.after:.3f} s: {wrong}", flush=True)
    print(", ".join(f"{number} × {work}" for work, number in counts.items()) + f"; {harmed} left harm")
    return 1 if harmed else 0


if __name__ == "__main__":
    sys.exit(main())
