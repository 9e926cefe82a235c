"""Files to text: what cannot be read, and where exactly, is a problem and never an exception."""

from __future__ import annotations

import errno
import os
import re
import stat
from pathlib import Path

from lessonpress.manuscript.text.passage import Passage, file_passage
from lessonpress.records import Location, Problems

# bytes of a text an author writes, by its file's name; tracks of a long clip stay below
LARGEST = {"tracks.csv": 32_000_000, "suggested.csv": 32_000_000, "marks.yaml": 8_000_000}
LARGEST_OF_OTHERS = 2_000_000
MOST_LINES = 500_000

CONTROL = re.compile(r"[\x00-\x08\x0b\x0c\x0e-\x1f\x7f-\x84\x86-\x9f\ufffe\uffff]")
_WIDE = {b"\xff\xfe": "UTF-16", b"\xfe\xff": "UTF-16"}


def printable(name: str) -> str:
    """A file's name with what is not text in it replaced, so that it can be printed."""
    return name.encode("utf-8", "replace").decode("utf-8")


def relative(root: Path, path: Path) -> str:
    """A path as problems name it: from the site's folder, with forward slashes."""
    return printable(path.relative_to(root).as_posix())


def read_text(root: Path, path: Path, problems: Problems) -> Passage | None:
    """A file's text, its lines parted by a newline however it was written; None once reported why."""
    name = relative(root, path)
    try:
        _refuse_what_lies_outside(root, path)
        data = bytes_of(path)
    except UnreadableTextError as error:
        problems.error(Location(name), error.wrong, error.right)
        return None
    except OSError as error:
        problems.error(
            Location(name), f"the file cannot be read: {reason(error)}", "see to it that it can be opened"
        )
        return None
    text = decode_text(name, data, problems)
    if text is not None and text.count("\n") > MOST_LINES:
        problems.error(Location(name), f"the file has more than {MOST_LINES} lines", "make it smaller")
        return None
    return file_passage(name, text) if text is not None else None


class UnreadableTextError(OSError):
    """What is in a text's place is none that is read. wrong, right: as in a Problem."""

    def __init__(self, wrong: str, right: str) -> None:
        super().__init__(errno.EINVAL, wrong)
        self.wrong, self.right = wrong, right


_NO_FILES = (
    (stat.S_ISDIR, "a folder"),
    (stat.S_ISFIFO, "a pipe"),
    (stat.S_ISSOCK, "a socket"),
    (stat.S_ISCHR, "a device"),
    (stat.S_ISBLK, "a device"),
)


def bytes_of(path: Path) -> bytes:
    """What a regular file holds, as many bytes as a text of its name may have.

    Raises UnreadableTextError for anything else: a pipe may have no writer, a device has no end.
    Raises OSError where the machine will not give it.
    """
    _refuse_what_is_no_file(path.stat().st_mode)
    with os.fdopen(os.open(path, os.O_RDONLY | _WITHOUT_WAITING), "rb") as file:
        _refuse_what_is_no_file(os.fstat(file.fileno()).st_mode)  # what was looked at may have been replaced
        most = LARGEST.get(path.name, LARGEST_OF_OTHERS)
        data = file.read(most + 1)
    if len(data) > most:
        raise UnreadableTextError(
            f"the file is larger than {most // 1_000_000} MB", "split it, or make it smaller"
        )
    return data


_WITHOUT_WAITING = getattr(os, "O_NONBLOCK", 0) | getattr(os, "O_BINARY", 0) | getattr(os, "O_NOCTTY", 0)


def _refuse_what_is_no_file(mode: int) -> None:
    if not stat.S_ISREG(mode):
        what = next((words for is_one, words in _NO_FILES if is_one(mode)), "no file")
        raise UnreadableTextError(f"this is {what}, and a text is expected here", "put the text itself there")


def _refuse_what_lies_outside(root: Path, path: Path) -> None:
    """A link out of the site would publish a text that no one put there, or follow a path someone sent."""
    real = os.path.realpath(path, strict=True)
    if not Path(real).is_relative_to(os.path.realpath(root)):
        raise UnreadableTextError("this is a link out of the site", "put the text itself there")


def reason(error: OSError) -> str:
    """What the machine says, in small letters."""
    return (error.strerror or type(error).__name__).lower()


def decode_text(name: str, data: bytes, problems: Problems) -> str | None:
    """UTF-8 bytes as text, without a byte-order mark; None once a byte that is not UTF-8 is reported."""
    if data[:2] in _WIDE:
        problems.error(Location(name), "the file is saved as UTF-16", "save it as UTF-8")
        return None
    try:
        text = data.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        _foreign_byte(name, data, error, problems)
        return None
    text = text.replace("\r\n", "\n").replace("\r", "\n")
    control = CONTROL.search(text)
    if control is None:
        return text
    location = file_passage(name, text).at(control.start())
    shown = CONTROL.sub("\N{REPLACEMENT CHARACTER}", location.source)
    wrong = f"the control character U+{ord(control[0]):04X} is here"
    problems.error(Location(location.path, location.line, location.column, shown), wrong, "take it out")
    return None


def _foreign_byte(name: str, data: bytes, error: UnicodeDecodeError, problems: Problems) -> None:
    """Report which byte is not UTF-8, where, and what it would be in the encoding it most likely is of."""
    data = error.object  # without the byte-order mark, if there was one
    before = data[: error.start].replace(b"\r\n", b"\n").replace(b"\r", b"\n")
    line = before.count(b"\n") + 1
    start = before.rfind(b"\n") + 1
    column = len(before[start:].decode("utf-8", "replace")) + 1
    byte = data[error.start : error.start + 1]
    rest = re.split(rb"[\r\n]", data[error.start :], maxsplit=1)[0]
    shown = before[start:].decode("utf-8", "replace") + rest.decode("cp1252", "replace")
    shown = CONTROL.sub("\N{REPLACEMENT CHARACTER}", shown)
    meant = byte.decode("cp1252", "ignore")
    windows = f" ({meant} in Windows-1252)" if meant else ""
    wrong = f"the byte 0x{byte[0]:02X}{windows} is not UTF-8"
    problems.error(Location(name, line, column, shown), wrong, "save the file as UTF-8")


def is_folder(path: Path) -> bool:
    """Whether a path is a folder; False for one that the machine will not say."""
    try:
        return path.is_dir()
    except OSError:
        return False


def entries(root: Path, folder: Path, problems: Problems) -> list[Path]:
    """What a folder holds, by name, hidden and backup files left out; [] where there is no such folder."""
    try:
        names = sorted(path.name for path in folder.iterdir())
    except FileNotFoundError:
        return []
    except OSError as error:
        name = relative(root, folder)
        problems.error(
            Location(name), f"the folder cannot be read: {reason(error)}", "see to it that it can be opened"
        )
        return []
    return [folder / name for name in names if not name.startswith(".") and not name.endswith("~")]


def fault_of_file(root: Path, path: Path) -> tuple[str, str] | None:
    """What keeps a path that is there from being a file of the site: (what is wrong, what would be right).

    Known from its state alone: to open a pipe or a device could wait for ever. A link is good that leads to a
    file of the site; one that leads out of it would publish what lies elsewhere, and breaks when that moves.
    """
    copy = "put the file itself there"
    try:
        target = path.resolve(strict=True)
        mode = target.stat().st_mode
    except (OSError, RuntimeError):  # RuntimeError: a link to itself, up to Python 3.12
        wrong = "leads to no file that can be reached" if path.is_symlink() else "cannot be reached"
        return wrong, f"connect the drive it lies on, or {copy}"
    if not target.is_relative_to(root.resolve()):
        return "is a link out of the site", copy
    if stat.S_ISDIR(mode):
        return "is a folder", copy
    return None if stat.S_ISREG(mode) else ("is a pipe or a device", copy)
