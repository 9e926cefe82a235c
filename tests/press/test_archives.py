"""A press with nothing to do costs little more than a bare script that walks and stats the same files.

The small form of `python -m tests.bench.archives`: ratios of the processor's time within one run, far from
what they are (1.3 to 1.8), so that a machine at work with other things does not decide.
"""

from __future__ import annotations

import shutil
from pathlib import Path

from tests.bench.archives import Archive
from tests.press.conftest import Edited

MOST = 4.0  # bare walks


def test_a_press_with_nothing_to_do_is_worth_a_few_bare_walks(edited: Edited, tmp_path: Path) -> None:
    root = Path(shutil.copytree(edited.root, tmp_path / "archive"))
    one = Archive(root, root / "build" / "site", lessons=4)
    one.settle()
    for _ in range(5):
        one.walk()
        one.press("nothing to do")
    assert one.seconds["nothing to do"] <= MOST * one.seconds["bare walk"], one.seconds
