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

DOCUMENTS = sorted(Path(__file__).with_name("mistakes").glob("*.md"))
_BLOCK = re.compile(r"^````(\w+) ?([^\n]*)\n(.*?)^````$", re.MULTILINE | re.DOTALL)
_RUN = "from lessonpress.cli import main; main()"


@pytest.mark.parametrize("document", DOCUMENTS, ids=lambda path: path.stem)
def test_a_press_reports_what_the_document_says(document: Path, own_site: Path, rewrite: Rewrite) -> None:
    blocks = _BLOCK.findall(document.read_text(encoding="utf-8"))
    changes = [(name, text) for kind, name, text in blocks if kind == "change"]
    results = [text for kind, _, text in blocks if kind == "to"]
    ((code, told),) = [(name, text) for kind, name, text in blocks if kind == "told"]
    for (file, old), new in zip(changes, results, strict=True):
        rewrite(own_site / file, old, new)
    done = subprocess.run(
        [sys.executable, "-c", _RUN, "press", own_site.name],
        cwd=own_site.parent,
        capture_output=True,
        text=True,
        encoding="utf-8",
    )
    said = re.search(rf"^{own_site.name}/.*", done.stderr, re.MULTILINE | re.DOTALL)
    assert said is not None, done.stderr
    assert said[0] == told
    assert done.returncode == int(code)
