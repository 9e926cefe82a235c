"""Help, `start` and mistakes in what was asked answer at once, without the video libraries."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

import pytest

_HEAVY = ("cv2", "av", "numpy", "PIL", "jinja2", "pydantic")
_SCRIPT = f"""
import sys
from lessonpress.cli import main
try:
    main()
except SystemExit as left:
    code = left.code
loaded = [name for name in {_HEAVY!r} if name in sys.modules]
print("LOADED", loaded, "LEFT WITH", code)
"""


def _ask(*words: str, cwd: Path) -> tuple[str, str]:
    """What the command said, and the last line: what was loaded and the code it left with."""
    done = subprocess.run(
        [sys.executable, "-c", _SCRIPT, *words], cwd=cwd, capture_output=True, text=True, check=True
    )
    *said, last = done.stdout.splitlines()
    return "\n".join(said) + done.stderr, last


@pytest.mark.parametrize(
    "words, code, says",
    [
        (["--help"], 0, "Press a site into a folder of static files."),
        (["press", "--help"], 0, "SITE/build/site"),
        (["measure", "--help"], 0, "unrounded"),
        (["start", "notebook"], 0, "lessonpress press notebook"),
        (["--version"], 0, "lessonpress"),
        (["pres"], 2, "press"),
        (["press", "--nowhere"], 2, "--nowhere"),
        (["press"], 2, "no site.yaml here or in any folder above"),
        (["press", "nowhere"], 2, "nowhere holds no site.yaml"),
        (["measure", "hub", "--csv", "--json"], 2, "give one of them"),
        (["ingest", "swing.mp4"], 2, "no site.yaml"),
    ],
)
def test_these_answer_without_loading_what_is_heavy(
    tmp_path: Path, words: list[str], code: int, says: str
) -> None:
    said, last = _ask(*words, cwd=tmp_path)
    assert says in said
    assert last == f"LOADED [] LEFT WITH {code}"
