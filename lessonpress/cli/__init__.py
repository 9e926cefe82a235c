"""The commands and what they print; the work is done in the rooms below.

`commands.py` has the table of commands, a module each. A press typed again while nothing has changed is
answered before that table is imported (`glance.py`).
"""

from __future__ import annotations

import gc
import sys

# The collector of garbage is asked after so many objects. It looks through all that there are, which took a
# third of a small press when asked after 700: hundreds of thousands of objects are made to stay.
_COLLECTED_AFTER = (50_000, 20, 50)


def main() -> None:
    """The program's entry."""
    words = sys.argv[1:]
    if words[:1] == ["press"]:
        from lessonpress.cli.glance import say_again

        if say_again(words):
            return
    gc.set_threshold(*_COLLECTED_AFTER)
    from lessonpress.cli.commands import run

    run(words)
