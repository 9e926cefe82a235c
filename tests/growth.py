"""Work counted in calls of functions, Python's and C's, so that no clock and no machine has a part in it.

Four times as much written may take five times the calls; with the square it would be sixteen.
"""

from __future__ import annotations

import sys
from collections.abc import Callable
from typing import Any

MOST_TIMES = 5.0  # for four times as much


def calls(work: Callable[[], object]) -> int:
    """How many calls some work takes."""
    made = 0

    def count(_frame: Any, event: str, _said: Any) -> None:
        nonlocal made
        made += event in ("call", "c_call")

    kept = sys.getprofile()
    sys.setprofile(count)
    try:
        work()
    finally:
        sys.setprofile(kept)
    return made
