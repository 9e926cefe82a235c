"""Whether a press typed again would do nothing, seen at a glance: all files have the times they had.

After a press that had nothing to do the command leaves a note in the site's cache, found by the words typed
and the folder they were typed in: a hash of the state of every file of the site, the pressed folder, the
program and its themes (as `FileState` of `press/file_hashes.py`: size, times, inode) and of all else that
decides what comes out (Python, where its libraries lie); and when the day ends that it was in the site's
time zone. Typed again on that day, the same words are answered from the note while that hash is the same.
Where it is another, or there is no note, the press looks by itself, by content.

A note is left only where these times tell all: nothing was changed so late that a change during the press
could have escaped it, and no input lies outside the folders that are gone through. This module imports hardly
anything, since starting takes longer than looking: no pathlib either.
"""

from __future__ import annotations

import os
import stat
import sys
import time
from collections.abc import Iterable
from hashlib import sha256

_FORM = "3"
_SHELF = "again"
_LONGEST = 86_400_000_000_000  # ns that a note holds where no day decides anything
_TICK = 2_000_000_000  # ns; see `press/file_hashes.py`
_PACKAGE = os.path.dirname(os.path.dirname(os.path.abspath(__file__)))
_CODE = (".py", ".pyi")
_APART = ("themes", "starter", "__pycache__")  # of the package, what `press/steps/inputs.py` leaves out too
_OF_THE_PRESS = "build"  # of a site, the program's own


class _UnclearError(Exception):
    """Times do not tell all."""


def say_again(words: list[str]) -> bool:
    """Prints what the press of these words said, where it would do nothing now; False where it might."""
    if sys.platform == "win32":  # which shows no time of change
        return False
    for folder in (*words[1:], "."):
        note = _read(folder, words)
        if note is None:
            continue
        noted, root, out, libraries, began, until, errors, said = note
        try:
            told = (began, until, errors, said)
            now = _States(words, root, out, libraries.split("\n"), told, noted).hashed
            in_time = int(began) <= time.time_ns() < int(until)
        except (OSError, ValueError, _UnclearError):
            return False
        if now != noted or not in_time:
            return False
        _say(errors, said)
        return True
    return False


def _say(errors: str, said: str) -> None:
    try:
        for text, stream in ((errors, sys.stderr), (said, sys.stdout)):
            stream.buffer.write(text.encode(stream.encoding, "replace"))
            stream.flush()
    except BrokenPipeError:  # as in `exit_codes.py`
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())


def leave_note(
    words: list[str],
    root: str,
    out: str,
    began: int,
    inputs: Iterable[tuple[str, str]],
    texts: tuple[str, str],
) -> None:
    """Notes what a press said that would do nothing if typed again.

    began: when the press was, ns. inputs: kind and name of all that it rests on (`press/steps/inputs.py`).
    texts: for standard error and output. Leaves no note where times do not tell all.
    """
    inputs = list(inputs)
    paths = [of for kind, of in inputs if kind in ("file", "folder")]
    if sys.platform == "win32" or not all(map(_is_gone_through, paths)):
        return
    root, out = os.path.abspath(root), os.path.abspath(out)
    libraries = _folders_of([of for kind, of in inputs if kind == "library" and of != "python"])
    until = min((_end_of_day(zone, began) for zone in _zones_of(inputs)), default=began + _LONGEST)
    said = (str(began), str(until), *texts)
    try:
        states = _States(words, root, out, libraries, said)
    except (OSError, _UnclearError):
        return
    if states.newest + _TICK <= began:
        _write(root, words, (states.hashed, root, out, "\n".join(libraries), *said))


def _zones_of(inputs: Iterable[tuple[str, str]]) -> set[str]:
    """The time zones whose day decides something."""
    return {of.partition(" ")[0] for kind, of in inputs if kind == "day"}


def _end_of_day(zone: str, moment: int) -> int:
    """When the day of a moment ends in a time zone; both ns since 1970."""
    from datetime import UTC, datetime, timedelta
    from zoneinfo import ZoneInfo

    here = datetime.fromtimestamp(moment // 10**9, UTC).astimezone(ZoneInfo(zone))
    midnight = here.replace(hour=0, minute=0, second=0, microsecond=0, tzinfo=None) + timedelta(days=1)
    return int(midnight.replace(tzinfo=ZoneInfo(zone)).timestamp()) * 10**9


def _is_gone_through(path: str) -> bool:
    """Whether a path from the site's folder is one of those that `_States` looks at."""
    parts = path.split("/")
    return parts[0] != _OF_THE_PRESS and not any(part.startswith(".") for part in parts)


class _States:
    """hashed: of the inputs, and of everything there is. newest: the last change of an input, ns since 1970.

    noted: what it was. Where inputs are others already, `_UnclearError` is raised before what was pressed, of
    many times as many files, is gone through.
    """

    def __init__(
        self,
        words: list[str],
        root: str,
        out: str,
        libraries: list[str],
        said: tuple[str, ...],
        noted: str = "",
    ) -> None:
        self.newest = 0
        self._root, self._out = root, out
        self._said = [_FORM, *words, os.getcwd(), sys.version, *sys.path, *said]
        for folder in libraries:
            self._look_at(folder)
        self._go_through_site(root)
        self._go_through_program(_PACKAGE)
        for folder in _theme_folders():
            self._go_through_all(folder)
        inputs_until, inputs = self.newest, self._hash()
        if noted and not noted.startswith(inputs):
            raise _UnclearError
        self._said.append(out)
        self._look_at(f"{os.path.realpath(out)}.changes.json")  # which says by now that nothing changed
        self._check_unfinished()
        self._go_through_all(out)
        self.newest = inputs_until  # what was pressed is new in any case
        self.hashed = f"{inputs} {self._hash()}"

    def _hash(self) -> str:
        return sha256("\0".join(self._said).encode("utf-8", "surrogateescape")).hexdigest()

    def _look_at(self, folder: str) -> None:
        """The time of a folder or file alone."""
        state = os.stat(folder)
        self._said.append(f"{folder} {state.st_mtime_ns} {state.st_ino}")
        self.newest = max(self.newest, state.st_mtime_ns, state.st_ctime_ns)

    def _go_through_site(self, folder: str) -> None:
        for entry in self._entries(folder):
            if entry.name.startswith(".") or (folder == self._root and entry.name == _OF_THE_PRESS):
                continue
            if not entry.is_dir(follow_symlinks=False):
                self._note(entry)
            elif entry.path != self._out:
                self._go_through_site(entry.path)

    def _go_through_program(self, folder: str) -> None:
        for entry in self._entries(folder):
            if entry.name.endswith(_CODE):
                self._note(entry)
            elif entry.name not in _APART and entry.is_dir():
                self._go_through_program(entry.path)

    def _go_through_all(self, folder: str) -> None:
        for entry in self._entries(folder):
            if entry.is_dir(follow_symlinks=False):
                self._go_through_all(entry.path)
            else:
                self._note(entry)

    def _entries(self, folder: str) -> Iterable[os.DirEntry[str]]:
        state = os.stat(folder)
        self.newest = max(self.newest, state.st_mtime_ns, state.st_ctime_ns)
        self._said.append(folder)
        with os.scandir(folder) as entries:
            return list(entries)

    def _note(self, entry: os.DirEntry[str]) -> None:
        state = entry.stat(follow_symlinks=False)
        if stat.S_ISLNK(state.st_mode):
            self._said.append(os.readlink(entry.path))
            state = entry.stat()
        if not stat.S_ISREG(state.st_mode):
            raise _UnclearError
        mtime, ctime = state.st_mtime_ns, state.st_ctime_ns
        self._said.append(f"{entry.name} {state.st_size} {mtime} {ctime} {state.st_ino} {state.st_dev}")
        if ctime > self.newest or mtime > self.newest:
            self.newest = max(mtime, ctime)

    def _check_unfinished(self) -> None:
        """Another press may be at work, or one that was killed left something to tidy."""
        above, name = os.path.split(self._out)
        for sibling in os.listdir(above):
            if sibling.startswith((f".{name}.pressing", f".{name}.before")):
                raise _UnclearError
        if os.listdir(os.path.join(self._root, _OF_THE_PRESS, "cache", "unfinished")):
            raise _UnclearError


def _theme_folders() -> list[str]:
    """Where `records/theme.py` looks for packaged themes, as far as they are there."""
    either = (os.path.join(_PACKAGE, "themes"), os.path.join(os.path.dirname(_PACKAGE), "themes"))
    return [folder for folder in either if os.path.isdir(folder)]


def _folders_of(libraries: Iterable[str]) -> list[str]:
    """The folders where these libraries lie: another version changes the times of its."""
    from importlib.metadata import PackageNotFoundError, distribution

    folders: set[str] = set()
    for name in libraries:
        try:
            folders.add(os.path.abspath(str(distribution(name).locate_file(""))))
        except PackageNotFoundError:
            continue
    return sorted(folders)


def _path(root: str, words: list[str]) -> str:
    typed = "\0".join((_FORM, os.getcwd(), *words)).encode("utf-8", "surrogateescape")
    name = sha256(typed).hexdigest()
    return os.path.join(root, _OF_THE_PRESS, "cache", _SHELF, name[:2], name[2:])


def _read(folder: str, words: list[str]) -> list[str] | None:
    """hash, site, pressed folder, folders of libraries, from when, until when, two texts; None: no note."""
    try:
        with open(_path(folder, words), "rb") as file:
            fields = file.read().decode("utf-8", "surrogateescape").split("\0")
    except (OSError, ValueError):
        return None
    return fields if len(fields) == 8 else None


def _write(root: str, words: list[str], fields: tuple[str, ...]) -> None:
    from pathlib import Path

    from lessonpress.disk import write_atomically

    path = Path(_path(root, words))
    path.parent.mkdir(parents=True, exist_ok=True)
    content = "\0".join(fields).encode("utf-8", "surrogateescape")
    write_atomically(path, content, by_way_of=path.parents[2] / "unfinished", lasting=False)
