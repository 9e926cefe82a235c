"""Whether the key that names a kind is followed by as many marks as the kind takes, each another one."""

from __future__ import annotations

from lessonpress import manuscript as nodes
from lessonpress.overlays.kind import OverlayKind
from lessonpress.records import Problems

_COUNT_WORDS = ("no marks", "one mark", "two marks", "three marks")


def check_marks(kind: OverlayKind, entry: nodes.Mapping, problems: Problems) -> bool:
    """Report a wrong number of marks, or the same mark twice. The kind's key is the entry's first."""
    least, most = kind.Fields.COUNT
    written = _marks_written(entry.entries[0][1], most)
    if written is None or len(written) < least or (most is not None and len(written) > most):
        wrong = f"`{kind.KIND}` takes {_count_words(least, most)}"
        problems.error(entry.location_of(kind.KIND), wrong, f"write it as `- {kind.Fields.EXAMPLE}`")
        return False
    again = [index for index, mark in enumerate(written) if mark in written[:index]]
    for index in again:
        wrong = f"`{written[index]}` is named twice in one `{kind.KIND}`"
        problems.error(entry.location_of(kind.KIND, index), wrong, "name another mark")
    return not again


def _marks_written(value: nodes.Node, most: int | None) -> list[str] | None:
    """The marks after the kind's key: a word where it takes one, else a list; None for anything else."""
    if isinstance(value, nodes.Scalar):
        words = [value.written] if value.written else []
        return words if most in (0, 1) else None
    if isinstance(value, nodes.Sequence) and most not in (0, 1):
        return [item.written if isinstance(item, nodes.Scalar) else "" for item in value.items]
    return None


def _count_words(least: int, most: int | None) -> str:
    words = _COUNT_WORDS[least]
    return f"{words} or more" if most is None else words
