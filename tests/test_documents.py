"""Documents of cases are read whole, and written anew where other words come out."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.documents import Remade, cases_in, cases_of

TWO = """\
# Hips

What is said of them.

## One that moves

`site.yaml`

````yaml crlf
units: in
```
````

Told:

```text
two lines
of words
```

## One that rests

```text
```
"""


def written(folder: Path, text: str) -> Path:
    path = folder / "hips.md"
    path.write_text(text, encoding="utf-8")
    return path


def test_a_case_is_a_heading_with_its_blocks(tmp_path: Path) -> None:
    moving, resting = cases_in(written(tmp_path, TWO).parent)
    assert (str(moving), moving.title, str(resting)) == ("hips.md:5", "One that moves", "hips.md:21")
    site, told = moving.blocks
    assert (site.label, site.words, site.text) == ("`site.yaml`", ("yaml", "crlf"), "units: in\n```")
    assert (told.label, str(told), told.text) == ("Told:", "hips.md:17", "two lines\nof words")
    assert resting.blocks[0].text == ""


def test_a_document_without_second_headings_is_one_case(tmp_path: Path) -> None:
    (case,) = cases_of(written(tmp_path, "# Hips\n\nWithout `site.yaml`.\n\n```text\n12\n```\n"))
    assert (case.title, case.blocks[0].text) == ("Hips", "12")
    assert "Without `site.yaml`." in case.text


@pytest.mark.parametrize(
    ("text", "wrong"),
    [
        ("# Hips\n\n## One\n\n```text\n12\n", "hips.md:5: this block is not closed"),
        ("# Hips\n\n## One\n\n## Two\n\n```text\n12\n```\n", "hips.md:3 has no block"),
        ("# Hips\n\n```text\n12\n```\n\n## One\n\n```text\n```\n", "hips.md:3: this block is before"),
    ],
)
def test_what_would_be_passed_over_is_refused(text: str, wrong: str, tmp_path: Path) -> None:
    with pytest.raises(ValueError, match=wrong):
        cases_of(written(tmp_path, text))


def test_a_folder_without_documents_is_refused(tmp_path: Path) -> None:
    with pytest.raises(ValueError, match="no cases"):
        cases_in(tmp_path)


def test_blocks_are_made_anew_whatever_their_length_and_the_rest_stays(tmp_path: Path) -> None:
    path = written(tmp_path, TWO)
    moving, resting = cases_of(path)
    remade = Remade()
    remade.note(moving.blocks[1], "one line")
    remade.note(resting.blocks[0], "it rests\n\nstill")
    (difference,) = remade.write()
    as_written = TWO.replace("two lines\nof words", "one line").replace(
        "```text\n```", "```text\nit rests\n\nstill\n```"
    )
    assert path.read_text(encoding="utf-8") == as_written
    changes = [line for line in difference.splitlines()[2:] if line[0] in "+-"]
    assert changes == ["-two lines", "-of words", "+one line", "+it rests", "+", "+still"]
