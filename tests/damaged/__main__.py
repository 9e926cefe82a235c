"""Damaged WebM films, seeded: every picture shown is a plain decode's, or it is refused; else exit code 1."""

from __future__ import annotations

import argparse
import sys
import tempfile
from pathlib import Path

from tests.damaged.films import damaged, films
from tests.damaged.held import held


def main() -> int:
    asked = argparse.ArgumentParser(prog="python -m tests.damaged", description=__doc__)
    asked.add_argument("--films", type=int, default=70)
    asked.add_argument("--seed", type=int, default=1)
    given = asked.parse_args()
    refused = wrong = left_out = 0
    with tempfile.TemporaryDirectory(prefix="damaged-") as folder:
        sound, path = films(Path(folder)), Path(folder) / "damaged.webm"
        for number in range(given.films):
            made = damaged(sound, given.seed, number)
            path.write_bytes(made.data)
            found = held(path)
            refused, left_out = refused + bool(found.refused), left_out + found.left_out
            if found.other or found.unsure:
                wrong += 1
                print(f"{number} ({made.said}): other {found.other}, unsure {found.unsure}")
    print(
        f"{given.films} films: {refused} refused, {left_out} frames of the rest; {wrong} show another picture"
    )
    return 1 if wrong else 0


if __name__ == "__main__":
    sys.exit(main())
