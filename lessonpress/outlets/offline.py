"""What a browser needs to keep the site: lists of files by hash, the worker at the site's root, the manifest.

| file | says |
|---|---|
| `lessons/FOLDER/offline.json` | the files that a lesson's page shows, each with hash and size |
| `offline.json` | the files that all pages share, and the lessons there are, by hashes of their paths |
| `offline.js` | the worker: another one wherever `offline.json` is another |
| `site.webmanifest` | how the site is called and drawn once installed (W3C, Web Application Manifest) |

The list of lessons is for taking back: what is no longer in it goes from every device. It names no path,
since those of lessons that are not listed are for those who were given them.
"""

from __future__ import annotations

import hashlib
import json
import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from posixpath import dirname, join, normpath
from urllib.parse import quote, unquote

from lessonpress.manuscript import Site
from lessonpress.pages import HOME_PAGE

LIST = "offline.json"
WORKER = "offline.js"
MANIFEST = "site.webmanifest"
_SHORT = 16  # hex digits, of the hashes by which lessons are looked up
_SHOWN = re.compile(r'\b(src|srcset|href|poster)="([^"]*)"')
_PAPER = "#F8F9F3"  # of tokens.css, by day


@dataclass(frozen=True)
class File:
    """A file of the pressed site. hashed: SHA-256 in hex. size: bytes."""

    path: str
    hashed: str
    size: int

    def written(self, width: int = 0) -> dict[str, object]:
        """As lists have it. width: of a picture, px; 0 for what comes in one size."""
        said: dict[str, object] = {"path": quote(self.path), "hash": self.hashed, "size": self.size}
        return said | ({"width": width} if width else {})


def lesson_list(page: File, html: str, known: Mapping[str, File]) -> bytes:
    """The list of a lesson: its page and those of the `known` files, by path, that the page shows.

    Files that are sizes of one picture are together: a reader needs one of them.
    """
    groups: dict[str, list[dict[str, object]]] = {}  # by the path of the largest
    shown = [(name, _named(value, dirname(page.path), name)) for name, value in _SHOWN.findall(html)]
    for _, named in sorted(shown, key=lambda one: one[0] != "srcset"):
        found = [(known[path], width) for path, width in named if path in known]
        if found and found[-1][0].path != page.path:
            groups.setdefault(found[-1][0].path, [file.written(width) for file, width in found])
    return _json({"page": quote(page.path), "files": [[page.written()], *groups.values()]})


def _named(value: str, folder: str, attribute: str) -> list[tuple[str, int]]:
    """The paths that an attribute names, from the site's root, and their widths in px, the largest last."""
    named = []
    for one in value.split(", ") if attribute == "srcset" else [value]:
        link, _, width = one.partition(" ") if attribute == "srcset" else (one, "", "")
        named.append((normpath(join(folder, unquote(link.partition("#")[0]))), int(width.rstrip("w") or 0)))
    return named


def site_list(shell: Iterable[File], lessons: Mapping[str, str]) -> bytes:
    """The list of the site. lessons: path of each page → SHA-256 of its list, in hex."""
    short = {_hash(quote(path).encode())[:_SHORT]: hashed[:_SHORT] for path, hashed in lessons.items()}
    files = [[one.written()] for one in shell]
    return _json({"files": files, "lessons": dict(sorted(short.items()))})


def worker(listed: bytes, keeper: str) -> bytes:
    """The script at the root. listed: the list of the site. keeper: path of the script that does the work."""
    return f'self.PRESS = "{_hash(listed)}";\nimportScripts("{quote(keeper)}");\n'.encode()


def manifest(site: Site, icons: Mapping[str, tuple[int, bool]]) -> bytes:
    """icons: path of each → px of a side, and whether the device may cut it to a form of its own."""
    written = {
        "name": site.title,
        "short_name": site.title,
        "lang": site.language,
        "start_url": HOME_PAGE,
        "scope": "./",
        "display": "standalone",
        "background_color": _PAPER,
        "theme_color": _PAPER,
        "icons": [
            {
                "src": quote(path),
                "sizes": f"{side}x{side}",
                "type": "image/png",
                "purpose": "maskable" if cut else "any",
            }
            for path, (side, cut) in icons.items()
        ],
    }
    return _json(written)


def _json(said: object) -> bytes:
    return (json.dumps(said, ensure_ascii=False, separators=(",", ":")) + "\n").encode()


def _hash(content: bytes) -> str:
    return hashlib.sha256(content).hexdigest()
