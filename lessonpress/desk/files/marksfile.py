"""Edits of a clip's marks.yaml: placings put, moved and taken away, the author's text kept round them."""

from __future__ import annotations

from pathlib import Path
from typing import Any

from lessonpress.desk.files.clicks import Placing
from lessonpress.desk.files.filesave import Codec, passage_of, sound_text
from lessonpress.desk.files.versions import bytes_of, version_of
from lessonpress.desk.files.yamltext import ABSENT, UneditableError, edited, value_at
from lessonpress.desk.http.requests import MarkEdit
from lessonpress.desk.http.responses import RequestError
from lessonpress.manuscript import ACCEPTED, Marks, read_marks
from lessonpress.records import Problems

NAME_OF_FILE = "marks.yaml"
SAME = 0.0051  # px; coordinates are kept to a hundredth


def read(file: Path) -> tuple[str, Marks]:
    """Version and marks of the file; of none, "" and no marks."""
    content = bytes_of(file)
    passage = passage_of(file, content, Problems())
    marks = Marks() if passage is None else read_marks(passage, Problems())
    return version_of(content), marks


class MarksCodec(Codec[MarkEdit]):
    """A place is a mark on a frame; its value is the placing, None where there is none."""

    def opened(self, file: Path, content: bytes | None) -> str:
        return sound_text(file, content, read_marks)

    def current(self, text: str, edit: MarkEdit) -> Placing | None:
        try:
            value: Any = value_at(text, _path(edit))
        except UneditableError as error:
            raise RequestError(422, f"{NAME_OF_FILE}: {error}", "correct it by hand first") from error
        if not isinstance(value, list):
            return None
        return tuple(one if one == ACCEPTED else float(one) for one in value)

    def same(self, one: Placing | None, other: Placing | None) -> bool:
        if one is None or other is None:
            return one is other
        return len(one) == len(other) and all(map(_same, one, other))

    def written(self, text: str, edit: MarkEdit) -> str:
        try:
            return edited(text, _path(edit), ABSENT if edit.to is None else list(edit.to), blocks=2)
        except UneditableError as error:
            raise RequestError(
                422, f"{edit.mark} at frame {edit.frame}: {error}", f"change it in {NAME_OF_FILE} by hand"
            ) from error


def _same(one: float | str, other: float | str) -> bool:
    if isinstance(one, str) or isinstance(other, str):
        return one == other
    return abs(one - other) < SAME


def _path(edit: MarkEdit) -> tuple[str, str]:
    return (edit.mark, str(edit.frame))
