"""The items of `withdrawn.yaml`: there for lessons that are taken out, gone for those that are back."""

from __future__ import annotations

from collections.abc import Collection, Iterable
from datetime import UTC, datetime
from pathlib import Path

from lessonpress.disk import write_atomically
from lessonpress.manuscript import (
    WITHDRAWN,
    Withdrawn,
    read_site_file,
    read_withdrawn,
    with_withdrawn,
    without_withdrawn,
)
from lessonpress.records import Problems, UsageError, day_in


def write_notes(
    root: Path, lessons: Iterable[tuple[str, tuple[str, ...]]], *, put_away: bool = False
) -> None:
    """Writes an item for each lesson, its file and its addresses, but those that are there; none without any.

    put_away: by the desk, and not withdrawn. Raises UsageError where the file holds mistakes.
    """
    file = root / WITHDRAWN
    known = {(one.lesson, one.addresses) for one in _items(root) if one.put_away == put_away}
    site = read_site_file(root, {"site.yaml"}, Problems())
    today = day_in(site.timezone if site else "UTC", datetime.now(UTC))
    rows = [(path, today, at) for path, at in lessons if at and (path, at) not in known]
    if rows:
        text = file.read_text(encoding="utf-8") if file.is_file() else ""
        write_atomically(file, with_withdrawn(text, rows, put_away=put_away).encode())


def take_out_notes(root: Path, lessons: Collection[str], *, put_away: bool = False) -> None:
    """Takes the items of these files out again, and the file where nothing is left of it."""
    file, items = root / WITHDRAWN, _items(root)
    gone = [one for one in items if one.lesson in lessons and one.put_away == put_away]
    if not gone:
        return
    left = without_withdrawn(file.read_text(encoding="utf-8"), items, gone)
    if len(gone) == len(items) and not left.partition("\n")[2].strip():
        file.unlink()
    else:
        write_atomically(file, left.encode())


def _items(root: Path) -> list[Withdrawn]:
    """Raises UsageError where the file holds mistakes: nothing could be taken out of it again."""
    problems = Problems()
    items = list(read_withdrawn(root, {path.name for path in root.iterdir()}, problems))
    if problems.errors:
        raise UsageError(f"{WITHDRAWN} holds mistakes; `lessonpress press` says which")
    return items
