"""What a press changed, written beside the pressed folder for tools that bring a site to its host.

`site.changes.json` lies beside `site`, so that it is never published. It names paths, those of lessons that
are not listed too. `before` and `now` are the hashes of press.json in the site before and in this one: a tool
that finds another press.json at the host than `before` says knows that a press was never brought there.
"""

from __future__ import annotations

import json
import os
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from pathlib import Path

from lessonpress.disk import remove_unfinished, write_atomically
from lessonpress.press.receipt import NAME, hash_of, receipt_in


@dataclass(frozen=True)
class Before:
    """A pressed folder before it is replaced. files: paths of its own → SHA-256 in hex."""

    receipt: str | None
    files: Mapping[str, str]


def before(out: Path, known: Mapping[str, str] | None) -> Before:
    """What is in the folder by its receipt; nothing where none was pressed there.

    known: the hashes of its files by path, where they are known to be all there is.
    """
    receipt = receipt_in(out) if known is None else None
    if receipt is not None:
        paths = (path for path in _paths(out, "") if receipt.names(path))
        known = {path: receipt.hash_at(path) for path in paths}
    return Before(None, {}) if known is None else Before(hash_of((out / NAME).read_bytes()), known)


def _paths(folder: Path | str, at: str) -> Iterator[str]:
    with os.scandir(folder) as entries:
        for entry in entries:
            if entry.is_dir(follow_symlinks=False):
                yield from _paths(entry.path, f"{at}{entry.name}/")
            else:
                yield at + entry.name


def write_changes(out: Path, was: Before, now: Mapping[str, str]) -> None:
    """Writes which files the present press added, changed and removed. now: path → SHA-256 in hex."""
    receipt = hash_of((out / NAME).read_bytes())
    lists = {
        "added": sorted(path for path in now if path not in was.files),
        "changed": sorted(path for path, hashed in now.items() if was.files.get(path, hashed) != hashed),
        "removed": sorted(path for path in was.files if path not in now),
    }
    lists["changed" if was.receipt else "added"] += [NAME] if receipt != was.receipt else []
    _write(out, {"before": was.receipt, "now": receipt, **lists})


def write_no_changes(out: Path) -> None:
    """The same for a press that had nothing to do."""
    receipt = hash_of((out / NAME).read_bytes())
    _write(out, {"before": receipt, "now": receipt, "added": [], "changed": [], "removed": []})


def changes_path(out: Path) -> Path:
    target = out.resolve()
    return target.with_name(f"{target.name}.changes.json")


def _write(out: Path, said: Mapping[str, object]) -> None:
    content = (json.dumps(said, ensure_ascii=False, indent=1) + "\n").encode()
    path = changes_path(out)
    remove_unfinished(path.parent, path.name)  # what a press that was killed just here left
    if not path.is_file() or path.read_bytes() != content:
        write_atomically(path, content)
