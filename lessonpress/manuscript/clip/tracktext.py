"""The text of `tracks.csv` as the program writes it: a table anew, or rows put in the place of others."""

from __future__ import annotations

from collections.abc import Collection, Iterable

from lessonpress.manuscript.clip.tracks import HEADER
from lessonpress.records import Observation

Row = tuple[int, float, float, float]  # frame, x, y, u; px


def table(kept: Iterable[Observation], replaced: Collection[str], rows: Iterable[Observation]) -> str:
    """A whole file anew: rows of other marks as they were, those of `replaced` anew, by mark and frame."""
    others = [seen for seen in kept if seen.mark not in replaced]
    ordered = sorted((*others, *rows), key=lambda seen: (seen.mark, seen.frame))
    return _text(_line(seen.mark, (seen.frame, seen.x, seen.y, seen.u or 0.0)) for seen in ordered)


def rows_of(text: str, mark: str, first: int, last: int) -> tuple[Row, ...]:
    """The mark's rows on frames first..last, in the file's order. text: without mistakes."""
    rows = (_row(line) for line in _lines(text))
    return tuple(row for its, row in rows if its == mark and first <= row[0] <= last)


def with_rows(text: str, mark: str, first: int, last: int, rows: Iterable[Row]) -> str:
    """The text with `rows` for the mark's on frames first..last; every other row as it was written.

    They come where those were, else among the mark's own by frame; those of a new mark come last.
    text: without mistakes; "" for none.
    """
    kept: list[str] = []
    at: int | None = None
    for line in _lines(text):
        its, row = _row(line)
        if its == mark and first <= row[0] <= last:
            at = len(kept) if at is None else at
            continue
        if its == mark and at is None and row[0] > last:
            at = len(kept)
        kept.append(line)
    if at is None:
        own = [number for number, line in enumerate(kept) if _row(line)[0] == mark]
        at = own[-1] + 1 if own else len(kept)
    return _text([*kept[:at], *(_line(mark, row) for row in rows), *kept[at:]])


def tidied(text: str) -> str:
    """The header and the rows as written; blank lines go."""
    return _text(_lines(text))


def _lines(text: str) -> list[str]:
    return [line for line in text.split("\n") if line.strip()][1:]


def _text(lines: Iterable[str]) -> str:
    return "".join(f"{line}\n" for line in (",".join(HEADER), *lines))


def _line(mark: str, row: Row) -> str:
    frame, x, y, u = row
    return f"{mark},{frame},{x:.2f},{y:.2f},{u:.3f}"


def _row(line: str) -> tuple[str, Row]:
    mark, frame, x, y, u = (part.strip().strip('"') for part in line.split(","))
    return mark, (int(frame), float(x), float(y), float(u))
