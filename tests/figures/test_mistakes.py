"""Every document of mistakes in meaning: a lesson's blocks as written, and what is reported of them.

A case is a heading, a block of four backticks with the lesson's body, and a text block with every problem in
order. The clip `dune` has 300 pictures of 1280 × 720 px and the card and marks of `drawn.py`; a block `site`,
`front`, `card` or `marks` after the body says how theirs differ: `was` → `is`, or the whole file where there
is no arrow. A block `beside` is the card of a second clip, `along`, with the same marks.
The lesson's body begins in line 6 of its file. The documents are found by listing the folder.
"""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.documents import Case, Holds, cases_in
from tests.figures.drawn import CARD, FRONT, MARKS, SCALE, SITE, told_of

FILES = {"site": SITE, "front": FRONT, "card": CARD + SCALE, "marks": MARKS, "beside": ""}
SCALELESS = FILES | {"card": CARD}


@pytest.mark.parametrize("case", cases_in(Path(__file__).parent / "mistakes"), ids=str)
def test_a_mistake_is_reported_as_its_document_says(case: Case, tmp_path: Path, holds: Holds) -> None:
    body, *changes, told = case.blocks
    files = dict(SCALELESS if case.path.stem == "scaleless" else FILES)
    for change in changes:
        (file,) = change.words
        files[file] = changed(files[file], change.lines)
    assert (body.words, told.words) == ((), ("text",)), f"{case} is not written as a case is"
    holds(told, told_of(tmp_path, body.text, **files))


def changed(file: str, written: tuple[str, ...]) -> str:
    """A file as a case has it."""
    if not any("→" in line for line in written):
        return "".join(f"{line}\n" for line in written)
    for line in written:
        was, is_ = (part.strip() for part in line.split("→"))
        assert file.count(was) == 1, f"{was} is not in the file once"
        file = file.replace(was, is_)
    return file
