"""Every document of mistakes in meaning: a lesson's blocks as written, and what is reported of them.

A case is a heading, a block of four backticks with the lesson's body, and a text block with every problem in
order. The clip `dune` has 300 pictures of 1280 × 720 px and the card and marks of `drawn.py`; a block `site`,
`front`, `card` or `marks` after the body says how theirs differ: `was` → `is`, or the whole file where there
is no arrow.
The lesson's body begins in line 6 of its file. The documents are found by listing the folder.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from pathlib import Path

import pytest

from tests.figures.drawn import CARD, FRONT, MARKS, SCALE, SITE, told_of

HERE = Path(__file__).parent / "mistakes"
CASE = re.compile(
    r"^## (?P<title>.+?)\n+````\n(?P<body>.*?)\n````\n+"
    r"(?:```site\n(?P<site>.*?)```\n+)?(?:```front\n(?P<front>.*?)```\n+)?"
    r"(?:```card\n(?P<card>.*?)```\n+)?(?:```marks\n(?P<marks>.*?)```\n+)?"
    r"```text\n(?P<told>.*?)\n?^```$",
    re.M | re.S,
)


def cases() -> Iterator[object]:
    for path in sorted(HERE.glob("*.md")):
        text = path.read_text(encoding="utf-8")
        found = list(CASE.finditer(text))
        assert len(found) == text.count("\n## "), f"{path.name}: a case is not written as a case is"
        for case in found:
            line = text.count("\n", 0, case.start()) + 1
            card = changed(CARD if "scaleless" in path.name else CARD + SCALE, case["card"])
            files = {
                "card": card,
                "marks": changed(MARKS, case["marks"]),
                "site": changed(SITE, case["site"]),
                "front": changed(FRONT, case["front"]),
            }
            yield pytest.param(case["body"], files, case["told"], id=f"{path.name}:{line}")


def changed(file: str, written: str | None) -> str:
    """A file as a case has it."""
    if written is None:
        return file
    if "→" not in written:
        return written
    for line in written.splitlines():
        was, is_ = (part.strip() for part in line.split("→"))
        assert file.count(was) == 1, f"{was} is not in the file once"
        file = file.replace(was, is_)
    return file


@pytest.mark.parametrize(("body", "files", "told"), list(cases()))
def test_a_mistake_is_reported_as_its_document_says(body, files, told, tmp_path):
    assert told_of(tmp_path, body, **files) == told
