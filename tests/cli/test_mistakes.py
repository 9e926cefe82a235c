"""Mistakes as documents: what an instructor changed in a sound site, and all that a press then says.

Each document in `mistakes/` is found by listing the folder. It holds `change FILE` and `to` blocks in pairs,
and one `told CODE` block with the whole of standard error after the stages, and its exit code.
"""

from __future__ import annotations

import re
import subprocess
import sys
from pathlib import Path

import pytest

from tests.conftest import Rewrite
from tests.documents import Case, Holds, cases_in

_RUN = "from lessonpress.cli import main; main()"


@pytest.mark.parametrize("case", cases_in(Path(__file__).with_name("mistakes")), ids=str)
def test_a_press_reports_what_the_document_says(
    case: Case, own_site: Path, rewrite: Rewrite, holds: Holds
) -> None:
    *changes, told = case.blocks
    for change, to in zip(changes[::2], changes[1::2], strict=True):
        (kind, file), (of_result,) = change.words, to.words
        assert (kind, of_result) == ("change", "to"), f"{case} is not written as a case is"
        rewrite(own_site / file, f"{change.text}\n", f"{to.text}\n" if to.lines else "")
    done = subprocess.run(
        [sys.executable, "-c", _RUN, "press", own_site.name],
        cwd=own_site.parent,
        capture_output=True,
        text=True,
        encoding="utf-8",
    )
    said = re.search(rf"^{own_site.name}/.*", done.stderr, re.MULTILINE | re.DOTALL)
    assert said is not None, done.stderr
    holds(told, said[0].removesuffix("\n"))
    assert told.words == ("told", str(done.returncode))
