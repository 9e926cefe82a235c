"""The tables of suggested marks in DEVELOPERS.md, each printed as soon as it is known.

`python -m tests.suggesting` prints all; with words only those of `marks`, `others` (marks of golfers of the
gallery), `carried`, `drawn` (carried, on drawn films), `club`, `moments`, `swaps`, `numbers`. `--learn`
writes `learnt.json` before. It needs the extra `suggest`, and takes an hour and more.
"""

from __future__ import annotations

import sys
from collections.abc import Callable, Iterable

from tests.suggesting import carrying, club, moments, numbers, swaps
from tests.suggesting.films import (
    CARRIED,
    DRAWN_TOO,
    HELD,
    LEARNT,
    OTHERS,
    OTHERS_ACROSS,
    RENDERED,
)
from tests.suggesting.learning import keep, learn
from tests.suggesting.studied import studied
from tests.suggesting.table import rows, tried

TABLES: dict[str, Callable[[], Iterable[str]]] = {
    "marks": lambda: rows([tried(film()) for film in HELD]),
    "others": lambda: rows([tried(film()) for film in OTHERS]),
    "carried": lambda: carrying.table([carrying.carried(film()) for film in CARRIED]),
    "drawn": lambda: carrying.table([carrying.carried(film()) for film in DRAWN_TOO]),
    "club": club.table,
    "moments": lambda: moments.table(
        [row for film in (made() for made in HELD) for row in moments.found_in(film)]
    ),
    "swaps": lambda: swaps.table([swaps.suggested_in(film()) for film in HELD]),
    "numbers": lambda: numbers.table(
        {
            group: [one for film in films for one in numbers.numbers(film())]
            for group, films in (("Shingle", (*RENDERED, *DRAWN_TOO)), ("ten others", OTHERS_ACROSS))
        }
    ),
}

if __name__ == "__main__":
    if "--learn" in sys.argv[1:]:
        keep(learn([studied(film()) for film in LEARNT]))
    for name in [word for word in sys.argv[1:] if word in TABLES] or TABLES:
        for line in TABLES[name]():
            print(line, flush=True)
        print(flush=True)
