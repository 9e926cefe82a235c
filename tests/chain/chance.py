"""How often what errs by chance is tried in films of the chain.

A routine run tries it half as often as a change to the uncertainties asks for; COVERAGE_TIMES=1 in the
environment tries all, more of it more. A share of few is held to bounds that follow from their number.
"""

from __future__ import annotations

import os

TIMES = float(os.environ.get("COVERAGE_TIMES", "0.5"))


def tries(count: int) -> range:
    """Seeds of the trials of this run, where `count` are tried in all."""
    return range(max(1, round(count * TIMES)))
