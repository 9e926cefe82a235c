"""What the steps read from outside: files, folders, the day, what was asked for, the program, its libraries.

Each has a name and a value, a short text; a product is made again where the value of one it noted is another.
A file's value is the hash of its content: see `press/file_hashes.py` for when it is not read for that.
"""

from __future__ import annotations

import functools
import os
import stat
import sys
from collections.abc import Callable
from dataclasses import dataclass, field
from datetime import UTC, date, datetime
from hashlib import sha256
from importlib.metadata import PackageNotFoundError, version
from pathlib import Path

from lessonpress.press.file_hashes import FileHashes
from lessonpress.records import day_in, theme_folder

ABSENT = ""
PACKAGED = "@"  # begins the paths of a packaged theme's files: @plate-book/theme.yaml
_TEXTS = (".yaml", ".md", ".csv")
_LARGEST_TEXT = 32_000_000  # bytes; a larger one is refused unread (manuscript/text/files.py)
_PACKAGE = Path(__file__).resolve().parents[2]
_HASHED: list[str] = []  # the program's hash, once it was asked for


@dataclass(frozen=True)
class PressOptions:
    """What the one who presses asked for."""

    drafts: bool = False
    own_themes: bool = False
    as_of: date | None = None
    compressed: bool = False
    now: datetime = field(default_factory=lambda: datetime.now(UTC))

    @property
    def words(self) -> str:
        """What distinguishes one press of a site from another, but for the day."""
        return f"drafts {self.drafts}, own themes {self.own_themes}, compressed {self.compressed}"

    def today(self, zone: str) -> date:
        """The day that was asked for, else the present one in a time zone."""
        return self.as_of or day_in(zone, self.now)


@dataclass
class Inputs:
    """Those of one press of the site at `root`; each is looked at once."""

    root: Path
    options: PressOptions
    file_hashes: FileHashes
    _values: dict[tuple[str, str], str] = field(default_factory=dict)

    def value(self, kind: str, of: str) -> str:
        key = (kind, of)
        if key not in self._values:
            self._values[key] = KINDS[kind](self, of)
        return self._values[key]

    def look_again(self) -> None:
        """Forgets what was looked at: for one who presses again later."""
        self._values.clear()

    def path_to(self, path: str) -> Path:
        """Where a file or folder of the site, or of a packaged theme, lies."""
        if path.startswith(PACKAGED):
            name, _, rest = path[1:].partition("/")
            return theme_folder(name) / rest
        return self.root / path

    def still(self, path: str) -> bool:
        """Whether a file that was looked at is as it was then."""
        return _file(self, path) == self.value("file", path)


def _file(inputs: Inputs, path: str) -> str:
    full = inputs.path_to(path)
    try:
        status = full.lstat()
        led = ""
        if stat.S_ISLNK(status.st_mode):
            led = f" by way of {_led_to(inputs.root, full)}"
            status = full.stat()
    except (OSError, RuntimeError, ValueError) as fault:  # ValueError: a name that no file can have
        return ABSENT if isinstance(fault, FileNotFoundError) else f"out of reach: {fault.__class__.__name__}"
    if not stat.S_ISREG(status.st_mode):
        return f"no file: {stat.S_IFMT(status.st_mode)}{led}"
    if full.suffix in _TEXTS and status.st_size > _LARGEST_TEXT:
        return f"too large: {status.st_size} bytes, of {status.st_mtime_ns}{led}"
    try:
        return inputs.file_hashes.hash_of(path, full, status) + led
    except OSError as fault:
        return f"unreadable: {fault.errno}{led}"


def _folder(inputs: Inputs, path: str) -> str:
    full = inputs.path_to(path)
    led = f" by way of {_led_to(inputs.root, full)}" if full.is_symlink() else ""
    try:
        with os.scandir(full) as entries:
            names = sorted(f"{one.name}\0{_kind(one)}" for one in entries if not one.name.startswith("."))
    except FileNotFoundError:
        return ABSENT
    except OSError as fault:
        return f"unreadable: {fault.errno}{led}"
    return sha256("\0\0".join(names).encode("utf-8", "surrogateescape")).hexdigest() + led


def _tree(inputs: Inputs, path: str) -> str:
    """Every path beneath a folder, hidden ones too."""
    listed: list[str] = []
    for folder, names, files in os.walk(inputs.path_to(path)):
        at = os.path.relpath(folder, inputs.path_to(path))
        listed += [f"{at}/{name}" for name in (*names, *files)]
    return sha256("\0".join(sorted(listed)).encode("utf-8", "surrogateescape")).hexdigest()


def _kind(entry: os.DirEntry[str]) -> str:
    """What an entry of a folder is, as far as that is known without asking the disk."""
    return "link" if entry.is_symlink() else "folder" if entry.is_dir() else "file"


def _led_to(root: Path, full: Path) -> str:
    return os.path.relpath(os.path.realpath(full), os.path.realpath(root))


def _day(inputs: Inputs, of: str) -> str:
    """of: "ZONE today"; "ZONE reached DAY" and "ZONE passed DAY" stay what they are once they are true."""
    zone, what, *rest = of.split(" ")
    today = inputs.options.today(zone)
    day = "".join(rest)
    if what == "today":
        return today.isoformat()
    return str(date.fromisoformat(day) <= today if what == "reached" else date.fromisoformat(day) < today)


def _asked(inputs: Inputs, of: str) -> str:
    return str(getattr(inputs.options, of))


def _program(inputs: Inputs, of: str) -> str:
    """The program's modules, stubs, word lists and what it learnt: who works on it is shown no old product.

    As they were when a process first asked: what it runs is what it has loaded, whatever lies there since.
    """
    if not _HASHED:
        digest = sha256()
        for path in sorted(_modules(_PACKAGE)):
            full = _PACKAGE / path
            hashed = inputs.file_hashes.hash_of(f"{PACKAGED}/{path}", full, full.stat())
            digest.update(f"{path}\0{hashed}\0".encode())
        _HASHED.append(digest.hexdigest())
    return _HASHED[0]


def _modules(folder: Path, at: str = "") -> list[str]:
    names: list[str] = []
    with os.scandir(folder) as entries:
        for entry in entries:
            if entry.name.endswith((".py", ".pyi", ".yaml", ".json")):
                names.append(at + entry.name)
            elif entry.is_dir() and entry.name not in ("themes", "starter", "__pycache__"):
                names += _modules(Path(entry.path), f"{at}{entry.name}/")
    return names


@functools.cache
def _library(name: str) -> str:
    if name == "python":
        return sys.version
    try:
        return version(name)
    except PackageNotFoundError:
        return ABSENT


KINDS: dict[str, Callable[[Inputs, str], str]] = {
    "file": _file,
    "folder": _folder,
    "tree": _tree,
    "day": _day,
    "asked": _asked,
    "program": _program,
    "library": lambda _, name: _library(name),
}
