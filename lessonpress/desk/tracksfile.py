"""Edits of a clip's tracks.csv: a mark's rows over a stretch of frames replaced, every other line kept."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from lessonpress.desk.answers import Body, RefusedError, list_in, number_in, problems_json, text_in, whole_in
from lessonpress.desk.whole import bytes_of, version_of
from lessonpress.disk.atomic import write_atomically
from lessonpress.manuscript.files import decode_text
from lessonpress.manuscript.names import NAME
from lessonpress.manuscript.passage import file_passage
from lessonpress.manuscript.tracks import HEADER, read_tracks
from lessonpress.records.problem import Problems

NAME_OF_FILE = "tracks.csv"
SAME = 0.0051  # px

Row = tuple[int, float, float, float]  # frame, x, y, u


@dataclass(frozen=True)
class Edit:
    """A mark's rows on frames first..last, before and after."""

    mark: str
    first: int
    last: int
    was: tuple[Row, ...]
    to: tuple[Row, ...]

    def json(self) -> dict[str, Any]:
        return {"mark": self.mark, "first": self.first, "last": self.last, "was": self.was, "to": self.to}


def edits_in(body: Body) -> tuple[Edit, ...]:
    """The edits of a request. Raises RefusedError for what is none."""
    return tuple(_edit(one) for one in list_in(body, "edits"))


def save(
    place: Path, edits: Iterable[Edit], known: str | None, *, anyway: bool = False
) -> tuple[str, bool, tuple[Edit, ...]]:
    """Writes the edits, all or none: the version then, whether it was merged, what was done.

    Raises RefusedError: 409 where they collide with what is on disk, 422 where the file has mistakes.
    """
    content = bytes_of(place)
    lines = _lines(place, content)
    collisions, done = [], []
    for edit in edits:
        disk = tuple(row for mark, row in map(_row, lines[1:]) if mark == edit.mark and _covers(edit, row))
        if not anyway and not _same(disk, edit.was) and not _same(disk, edit.to):
            collisions.append({**edit.json(), "disk": disk})
            continue
        done.append(Edit(edit.mark, edit.first, edit.last, disk, edit.to))
        lines = _replaced(lines, edit)
    if collisions:
        raise RefusedError(
            409,
            f"{NAME_OF_FILE} was changed meanwhile, just where you changed it",
            "look at both, then keep one",
            collisions=collisions,
            version=version_of(content),
        )
    new = "".join(line + "\n" for line in lines).encode()
    if new != content:
        write_atomically(place, new)
    return version_of(new), known is not None and known != version_of(content), tuple(done)


def _lines(place: Path, content: bytes | None) -> list[str]:
    """The header and the rows as written; blank lines go."""
    if content is None:
        return [",".join(HEADER)]
    path, problems = f"clips/{place.parent.name}/{place.name}", Problems()
    text = decode_text(path, content, problems)
    if text is not None:
        read_tracks(file_passage(path, text), problems)
    if text is None or problems.errors:
        raise RefusedError(
            422,
            f"{path} has mistakes, so nothing is written into it",
            "correct it by hand first",
            problems=problems_json(problems.in_order()),
        )
    return [line for line in text.split("\n") if line.strip()]


def _row(line: str) -> tuple[str, Row]:
    mark, frame, x, y, u = (part.strip().strip('"') for part in line.split(","))
    return mark, (int(frame), float(x), float(y), float(u))


def _replaced(lines: list[str], edit: Edit) -> list[str]:
    """The new rows stand where the mark's rows of that stretch would, by frame; a new mark's at the end."""
    kept: list[str] = [lines[0]]
    at: int | None = None
    for line in lines[1:]:
        mark, row = _row(line)
        if mark == edit.mark and _covers(edit, row):
            at = len(kept) if at is None else at
            continue
        if mark == edit.mark and at is None and row[0] > edit.last:
            at = len(kept)
        kept.append(line)
    if at is None:
        own = [number for number, line in enumerate(kept) if number and _row(line)[0] == edit.mark]
        at = own[-1] + 1 if own else len(kept)
    new = [f"{edit.mark},{frame},{x:.2f},{y:.2f},{u:.3f}" for frame, x, y, u in edit.to]
    return [*kept[:at], *new, *kept[at:]]


def _covers(edit: Edit, row: Row) -> bool:
    return edit.first <= row[0] <= edit.last


def _same(one: Sequence[Row], other: Sequence[Row]) -> bool:
    return len(one) == len(other) and all(
        a[0] == b[0] and all(abs(p - q) < SAME for p, q in zip(a[1:], b[1:], strict=True))
        for a, b in zip(one, other, strict=True)
    )


def _edit(given: Any) -> Edit:
    if not isinstance(given, dict):
        raise RefusedError(400, "an edit is a mapping")
    mark = text_in(given, "mark")
    if not NAME.fullmatch(mark) or len(mark) > 80:
        raise RefusedError(400, f"`{mark[:80]}` is not a mark's name", "small letters, digits and hyphens")
    edit = Edit(
        mark, whole_in(given, "first"), whole_in(given, "last"), _rows(given, "was"), _rows(given, "to")
    )
    if not all(_covers(edit, row) for row in edit.to):
        raise RefusedError(400, "`to` has rows outside first..last")
    return edit


def _rows(given: Body, key: str) -> tuple[Row, ...]:
    rows = [_given_row(row, key) for row in list_in(given, key)]
    if len({row[0] for row in rows}) != len(rows):
        raise RefusedError(400, f"`{key}` has a frame twice")
    return tuple(sorted(rows))


def _given_row(given: Any, key: str) -> Row:
    if not isinstance(given, list) or len(given) < 4:
        raise RefusedError(400, f"a row of `{key}` is to be [frame, x, y, u]")
    x, y, u = (number_in(number, f"`{key}`") for number in given[1:4])
    if min(x, y) < 0 or u <= 0:
        raise RefusedError(400, f"a row of `{key}` lies outside the picture", "x and y from 0, u above 0")
    return whole_in({"frame": given[0]}, "frame"), x, y, u
