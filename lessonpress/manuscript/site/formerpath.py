"""Earlier paths of a lesson: however one is written, one path from the site's start comes of it.

| written | is |
|---|---|
| `hips`, `hips.md`, `lessons/hips.md` | the lesson's earlier file: `lessons/hips` |
| `lessons/hips`, `/lessons/hips/`, `lessons/hips/index.html` | `lessons/hips` |
| `/hips` | an address at the site's start: `hips` |
| `2024/h%C3%BCfte.html` | `2024/hüfte.html` |

A host takes a path apart as a browser does, percent signs first (RFC 3986, section 2.4), and looks for a file
of that name; so what is here is decoded and in Unicode's form NFC.
"""

from __future__ import annotations

import re
import unicodedata
from urllib.parse import unquote

from lessonpress.manuscript.fields.invalid_value import InvalidValueError

_SEGMENT = re.compile(r"[\w~-](?:[\w .~,+()!'-]*[\w~)-])?")
_LONGEST_SEGMENT = 200  # bytes of a file's name; machines take 255, and `.html` and more are added
_LONGEST = 800  # bytes
_RIGHT = "write it from the site's start, `lessons/hips`"


def former_path(text: str) -> str:
    """The path without outer slashes and `index.html`. Raises InvalidValueError for what is none."""
    plain = _decoded(text)
    if not plain.strip():
        raise InvalidValueError(f"`{text}` is not a path of this site", _RIGHT)
    if "/" not in plain.strip() and not plain.endswith(".html"):
        plain = f"lessons/{plain}"
    if plain.startswith("lessons/"):
        plain = plain.removesuffix(".md")
    plain = plain.strip("/")
    clean = "" if plain.lower() == "index.html" else re.sub(r"/index\.html$", "", plain, flags=re.IGNORECASE)
    if not all(_SEGMENT.fullmatch(part) for part in clean.split("/")):
        raise InvalidValueError(f"`{text}` is not a path of this site", _RIGHT)
    if max(len(part.encode()) for part in clean.split("/")) > _LONGEST_SEGMENT or len(clean) > _LONGEST:
        right = f"a part has up to {_LONGEST_SEGMENT} bytes, the whole {_LONGEST}"
        raise InvalidValueError("the path is too long to be a file's name", right)
    return clean


def is_former_path(text: str) -> bool:
    try:
        former_path(text)
    except InvalidValueError:
        return False
    return True


def _decoded(text: str) -> str:
    if re.search(r"%(?![0-9A-Fa-f]{2})|%2[Ff]|%5[Cc]|%00", text):
        raise InvalidValueError(f"`{text}` has a percent sign that encodes no letter", _RIGHT)
    try:
        return unicodedata.normalize("NFC", unquote(text, errors="strict"))
    except UnicodeDecodeError:
        raise InvalidValueError(f"`{text}` is not UTF-8 behind its percent signs", _RIGHT) from None


def file_at(path: str) -> str:
    """The file that is at a former path: its own where it names one, else the folder's page."""
    return path if path.lower().endswith((".html", ".htm")) else f"{path}/index.html"


def as_one_file(path: str) -> str:
    """What two paths have in common that many machines take for the same file."""
    return unicodedata.normalize("NFC", path.casefold())
