"""Edits of a clip's tracks.csv: a mark's rows over a stretch of frames replaced, every other line kept."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

from lessonpress.desk.files.filesave import Codec, sound_text
from lessonpress.desk.http.requests import TrackEdit
from lessonpress.manuscript import Row, read_tracks, rows_of, tidied, with_rows

NAME_OF_FILE = "tracks.csv"
SAME = 0.0051  # px


class TracksCodec(Codec[TrackEdit]):
    """A place is a mark on some frames; its value is the rows there."""

    def opened(self, file: Path, content: bytes | None) -> str:
        return tidied(sound_text(file, content, read_tracks))

    def current(self, text: str, edit: TrackEdit) -> tuple[Row, ...]:
        return rows_of(text, edit.mark, edit.first, edit.last)

    def same(self, one: Sequence[Row], other: Sequence[Row]) -> bool:
        return len(one) == len(other) and all(
            a[0] == b[0] and all(abs(p - q) < SAME for p, q in zip(a[1:], b[1:], strict=True))
            for a, b in zip(one, other, strict=True)
        )

    def written(self, text: str, edit: TrackEdit) -> str:
        return with_rows(text, edit.mark, edit.first, edit.last, edit.to)

    def encoded(self, _before: bytes | None, text: str) -> bytes:
        """As the program writes tables, whatever the file was written with."""
        return text.encode()
