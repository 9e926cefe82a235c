"""What must never happen, a row a rule: each looks at one case after the program has run on it."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from hashlib import sha256
from pathlib import Path
from xml.etree import ElementTree

import html5lib

from tests.corpus.case import CANARY
from tests.corpus.program import Done

MOST_SAID = 300_000  # bytes: a thousand problems with their lines
MOST_PRESSED = 60_000_000  # bytes of a pressed site with two figures
ACTIVE = {"script", "iframe", "object", "embed", "base", "meta", "style", "frame", "applet"}
ADDRESSES = {"href", "src", "action", "formaction", "data", "poster", "srcdoc", "style", "content"}
_SCHEMES = re.compile(r"(?:javascript|vbscript|data:text)", re.IGNORECASE)
_FENCE = re.compile(r"^(?:```|~~~)(?:frame|strip)\s*$", re.MULTILINE)

FileState = dict[str, str]  # path → hash of what lies there, or what it is


@dataclass(frozen=True)
class Seen:
    """One case after its commands. good: the pressed site before; outside: what lay round the site before."""

    root: Path
    done: tuple[Done, ...]
    good: FileState
    outside: FileState

    @property
    def pressed(self) -> Path:
        return self.root / "build" / "site"

    @property
    def accepted(self) -> bool:
        return self.done[0].words[0] == "press" and self.done[0].code == 0


def state_of(folder: Path, without: tuple[str, ...] = ()) -> FileState:
    """Every file under a folder, links not followed; `without`: names at its top that are left out."""
    state = {}
    for place in sorted(folder.rglob("*")):
        path = place.relative_to(folder)
        if path.parts[0] in without:
            continue
        if place.is_symlink():
            state[str(path)] = f"link to {place.readlink()}"
        elif place.is_file():
            state[str(path)] = sha256(place.read_bytes()).hexdigest()
    return state


def _traceback(seen: Seen) -> bool:
    return any("Traceback (most recent call last)" in done.said for done in seen.done)


def _fault(seen: Seen) -> bool:
    return any(done.code not in (0, 1, 2, None) for done in seen.done) and not _memory(seen)


def _hang(seen: Seen) -> bool:
    return any(done.code is None for done in seen.done)


def _memory(seen: Seen) -> bool:
    words = (
        "MemoryError",
        "not enough memory",
        "want of memory",
        "Cannot allocate memory",
        "Unable to allocate",
    )
    return any(done.code == -9 or any(word in done.said for word in words) for done in seen.done)


def _outside(seen: Seen) -> bool:
    return state_of(seen.root.parent, ("site", "tmp", "home")) != seen.outside


def _lost(seen: Seen) -> bool:
    """Whether a site was accepted whose lesson asks for more figures than its page has."""
    lesson, page = seen.root / "lessons/pelvis.md", seen.pressed / "lessons/pelvis/index.html"
    if not seen.accepted or not lesson.is_file() or not page.is_file():
        return False
    asked = len(_FENCE.findall(lesson.read_bytes().decode("utf-8", "replace")))
    return page.read_text(encoding="utf-8").count("<figure") < asked


def _harmed(seen: Seen) -> bool:
    return not seen.accepted and state_of(seen.pressed) != seen.good


def _script(seen: Seen) -> bool:
    if not seen.accepted:
        return False
    anew = [path for path, now in state_of(seen.pressed).items() if seen.good.get(path) != now]
    return any(_active(seen.pressed / path) for path in anew if path.endswith((".html", ".svg", ".xml")))


def _active(path: Path) -> bool:
    """Whether a canary lies where a browser would run it: a real parser says what is an element."""
    data = path.read_bytes()
    if CANARY.encode() not in data.lower():
        return False
    try:
        tree = (
            html5lib.parse(data, namespaceHTMLElements=False)
            if path.suffix == ".html"
            else ElementTree.fromstring(data)
        )
    except ElementTree.ParseError:
        return True
    return any(_runs(element) for element in tree.iter())


def _runs(element: ElementTree.Element) -> bool:
    tag = str(element.tag).rpartition("}")[2].lower()
    if CANARY in tag or (tag in ACTIVE - {"meta"} and CANARY in "".join(element.itertext()).lower()):
        return True
    for name, value in element.attrib.items():
        name, value = str(name).rpartition("}")[2].lower(), value.lower()
        if CANARY in name or (CANARY in value and name.startswith("on")):
            return True
        if CANARY in value and name in ADDRESSES and _SCHEMES.match(re.sub(r"[\x00-\x20]", "", value)):
            return True
        if (CANARY in value and tag in ("base", "iframe", "script")) or (
            tag == "meta" and "http-equiv" in element.attrib and CANARY in value
        ):
            return True
    return False


def _private(seen: Seen) -> bool:
    """Whether a text from outside the site was published."""
    if not seen.accepted:
        return False
    return any(b"xprivate" in place.read_bytes() for place in seen.pressed.rglob("*.html"))


def _ran(seen: Seen) -> bool:
    """Whether a command that a text held was run."""
    return any(place.name.startswith(CANARY) for place in seen.root.parent.rglob("*"))


def _long(seen: Seen) -> bool:
    return any(len(done.said.encode()) > MOST_SAID for done in seen.done)


def _large(seen: Seen) -> bool:
    return sum(place.stat().st_size for place in seen.pressed.rglob("*") if place.is_file()) > MOST_PRESSED


RULES: dict[str, Callable[[Seen], bool]] = {
    "traceback": _traceback,
    "fault of the program": _fault,
    "hang": _hang,
    "out of memory": _memory,
    "write outside the site": _outside,
    "figures lost": _lost,
    "good site harmed": _harmed,
    "script in a page": _script,
    "published from outside": _private,
    "command run": _ran,
    "long list": _long,
    "large site": _large,
}


def broken(seen: Seen) -> Iterator[str]:
    """The rules that a case breaks."""
    return (name for name, breaks in RULES.items() if breaks(seen))
