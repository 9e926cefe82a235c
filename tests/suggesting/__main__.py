"""The tables of suggested marks in DEVELOPERS.md.

`python -m tests.suggesting` prints them, `--carry` those of carried marks alone; `--learn` writes
`learnt.json` before. It needs the extra `suggest`, and takes some minutes.
"""

from __future__ import annotations

import sys

from tests.suggesting import carrying
from tests.suggesting.films import CARRIED, HELD, LEARNT
from tests.suggesting.learning import keep, learn, studied
from tests.suggesting.table import rows, tried

if __name__ == "__main__":
    if "--learn" in sys.argv[1:]:
        keep(learn([studied(film()) for film in LEARNT]))
    if "--carry" not in sys.argv[1:]:
        print("\n".join(rows([tried(film()) for film in HELD])), end="\n\n")
    print("\n".join(carrying.table([carrying.carried(film()) for film in CARRIED])))
