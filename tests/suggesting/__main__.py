"""The table of suggested marks in DEVELOPERS.md: `python -m tests.suggesting`; `--learn` writes
`learnt.json` before.

It needs the extra `suggest`, and takes some minutes.
"""

from __future__ import annotations

import sys

from tests.suggesting.films import HELD, LEARNT
from tests.suggesting.learning import keep, learn, studied
from tests.suggesting.table import rows, tried

if __name__ == "__main__":
    if "--learn" in sys.argv[1:]:
        keep(learn([studied(film()) for film in LEARNT]))
    print("\n".join(rows([tried(film()) for film in HELD])))
