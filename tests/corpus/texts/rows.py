"""Rows of tracks.csv and placings of marks.yaml that a table program or a slip may leave."""

from __future__ import annotations

from pathlib import Path
from random import Random

from tests.corpus.sound import MARKS, TRACKS

ROWS = (
    "navel,1,nan,nan,nan",
    "navel,1,inf,1,1",
    "navel,99999999,1,1,1",
    "navel,-1,1,1,1",
    "navel,1e3,1,1,1",
    "navel;1;1;1;1",
    'navel,1,"1,5",1,1',
    '"' + "x" * 140_000 + '",1,1,1,1',
    '"navel',
    "navel,1,1,1,0",
    "navel,1,1,1,1e99",
    "navel,1,1e99,1,1",
    "=1+1,1,1,1,1",
    "navel,1,1,1,1,,,,",
    "," * 5000,
    "navel,١,1,1,1",
    "NAVEL,1,1,1,1",
    "navel,1,1,1,1\r",
    '"a""b",1,1,1,1',
    '""',
    "\x1f",
)
PLACINGS = (
    "[1e308, 1e308]",
    "[.nan, 1]",
    "[1, 1, 1e308]",
    "[1, 1, 1e-300]",
    "[" + "9" * 299 + ", 1]",
    "[1]",
    "{}",
    "[0, 0]",
)


def spoil(root: Path, random: Random) -> str:
    if random.random() < 0.6:
        row = random.choice(ROWS)
        times = random.choice((1, 1, 3000))
        with (root / TRACKS).open("a") as file:
            file.write(f"{row}\n" * times)
        return f"{times} rows {row[:40]!r}"
    placing = random.choice(PLACINGS)
    lines = (root / MARKS).read_text().split("\n")
    rows = [at for at, line in enumerate(lines) if line.startswith("  ")]
    at = random.choice(rows)
    lines[at] = lines[at].split(":")[0] + f": {placing}"
    (root / MARKS).write_text("\n".join(lines))
    return f"marks.yaml:{at + 1} is {placing[:40]}"
