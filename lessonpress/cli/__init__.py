"""The commands and what they print; the work is done in the rooms below.

`commands.py` has the table of commands, a module each. A press typed again while nothing has changed is
answered before that table is imported (`glance.py`).
"""

from __future__ import annotations

import sys


def main() -> None:
    """The program's entry."""
    words = sys.argv[1:]
    if words[:1] == ["press"]:
        from lessonpress.cli.glance import say_again

        if say_again(words):
            return
    from lessonpress.cli.commands import run

    run(words)
