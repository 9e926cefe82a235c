"""What the steps of a press read from outside, by its content."""

from __future__ import annotations

import os
from pathlib import Path

from lessonpress.press.file_hashes import FileHashes
from lessonpress.press.steps.inputs import Inputs, PressOptions


def test_a_text_without_an_end_is_not_read_to_be_hashed(tmp_path: Path) -> None:
    """A file of a hole is some bytes on the disk and forty thousand megabytes to read."""
    (tmp_path / "site.yaml").write_text("title: T\n", encoding="utf-8")
    os.truncate(tmp_path / "site.yaml", 40_000_000_000)
    file_hashes = FileHashes()
    assert (
        Inputs(tmp_path, PressOptions(), file_hashes)
        .value("file", "site.yaml")
        .startswith("too large: 40000000000")
    )
    assert not file_hashes.changed


def test_a_name_that_no_file_can_have_is_out_of_reach(tmp_path: Path) -> None:
    inputs = Inputs(tmp_path, PressOptions(), FileHashes())
    assert inputs.value("file", "x" * 5000).startswith("out of reach")
    assert inputs.value("file", "not-there") == ""
