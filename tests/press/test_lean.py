"""A command imports what it needs: help and a press with nothing to do need no video, arrays or templates."""

from __future__ import annotations

import json
import subprocess
import sys
from pathlib import Path

HEAVY = ("numpy", "cv2", "av", "jinja2", "PIL", "pydantic", "yaml", "markdown_it", "rich")

_IMPORTED = """
import json, sys
from lessonpress.cli.commands import lessonpress

lessonpress(sys.argv[1:], standalone_mode=False)
print(json.dumps(sorted(sys.modules)))
"""


def _imported(*words: str) -> set[str]:
    """The top names of what a process has imported after the command."""
    done = subprocess.run([sys.executable, "-c", _IMPORTED, *words], capture_output=True, text=True)
    assert done.returncode == 0, done.stderr
    return {name.partition(".")[0] for name in json.loads(done.stdout.splitlines()[-1])}


def test_a_press_with_nothing_to_do_imports_nothing_heavy(own_site: Path) -> None:
    assert _imported("press", str(own_site)) >= {"pydantic", "jinja2"}
    assert _imported("press", str(own_site)).isdisjoint(HEAVY)


def test_help_imports_nothing_heavy() -> None:
    for command in ("press", "start", "desk", "ingest"):
        assert _imported(command, "--help").isdisjoint(HEAVY)
