"""One desk a site: the second one is given the first one's address instead of fighting over the files."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from lessonpress.disk import LockedError, hold_lock
from lessonpress.records import UsageError

NAME = "desk.lock"


@contextmanager
def only_desk(root: Path, address: str) -> Iterator[None]:
    """Holds the site for this desk. address: what a second one is given; it holds no token.

    Raises UsageError where another desk holds the site.
    """
    file = root / "build" / NAME
    file.parent.mkdir(parents=True, exist_ok=True)
    try:
        with hold_lock(file, address):
            yield
    except LockedError as held_by:
        elsewhere = held_by.said or "another address"
        raise UsageError(
            f"a desk is open on this site already, at {elsewhere}; use that one or close it"
        ) from None
