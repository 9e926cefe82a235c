"""The place of the cursor in a lesson's text: what is asked for there, and how much of it is typed.

It reads lines, and neither YAML nor Markdown: a text that is being typed is mostly not yet either.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Literal

from lessonpress.desk.writing.above import Above, above
from lessonpress.figures import FIGURES
from lessonpress.manuscript import EXAMPLE, KINDS, PRINTING, front_end, kind_and_rest

FRONT = "front"

Asked = Literal["brace", "form", "figure", "page", "block", "key", "overlay", "value"]

_BRACE = re.compile(r"(?<!\\)\{(?P<typed>[A-Za-z0-9.:-]*)$")
_LINK = re.compile(r"(?<!\\)\]\((?P<typed>[^()\s<>]*)$")
_FENCE = re.compile(r"[ >]{0,12}(?P<marks>`{3,}|~{3,})(?P<info>[^`]*)$")
_WORD = re.compile(r"[\w./-]*(?::(?= |$) ?)?")
_TO_BRACE = re.compile(r"[A-Za-z0-9.:-]*\}")
_TO_BRACKET = re.compile(r"[^()\s<>]*\)")
_ITEM = re.compile(r"(?:^|[\[,]\s*)(?P<typed>[\w./-]*)$")
_OTHER_ITEMS = re.compile(r"[\w./-]+(?=\s*,)")
_INNER = re.compile(r"[{,]\s*(?P<key>[A-Za-z][\w-]*):\s+(?P<typed>[\w./-]*)$")
_INNER_KEY = re.compile(r"[{,]\s*(?P<typed>[A-Za-z][\w-]*)?$")


@dataclass(frozen=True)
class Place:
    """What is asked for at the cursor.

    typed: what of it is before the cursor. over: how many characters after the cursor belong to it.
    kind: of the figure around it, "front" for front matter, "" in running text. id: of the measure whose form
    is asked for. path: the keys that the cursor is below, outermost first, the one whose value is asked for
    last. overlay: the kind of the overlay around it. there: keys beside it, or items of its list. figure: the
    text of the figure or the front matter without the cursor's line. begins: whether an entry of a list has
    still to be begun.
    """

    asked: Asked
    typed: str = ""
    over: int = 0
    kind: str = ""
    id: str = ""
    path: tuple[str, ...] = ()
    overlay: str = ""
    there: tuple[str, ...] = ()
    figure: str = ""
    begins: bool = False

    @property
    def key(self) -> str:
        """The key whose value is asked for."""
        return self.path[-1] if self.path else ""


def place_of(before: str, after: str) -> Place | None:
    """The place between two parts of a text; None where nothing is known to be asked for."""
    *lines, line = before.split("\n")
    rest, *below = after.split("\n")
    if lines and lines[0].rstrip() == "---" and front_end(lines) is None:
        front = "\n".join([*lines[1:], *_up_to_fence(below, "---")])
        return _in_yaml(FRONT, lines[1:], line, rest, front)
    fences = _around(lines)
    kind = kind_and_rest(fences[-1].info)[0] if fences else ""
    if kind in FIGURES:
        written = lines[fences[-1].number + 1 :]
        figure = "\n".join([*written, *_up_to_fence(below, fences[-1].marks)])
        return _in_yaml(kind, written, line, rest, figure)
    if fences and kind not in KINDS:
        return None
    opening = _FENCE.match(line)
    if opening and (not fences or kind == EXAMPLE):
        return Place("block", opening["info"].strip(), _over(_WORD, rest))
    return _in_words(line, rest, "")


def _in_words(line: str, rest: str, figure: str) -> Place | None:
    """A brace or a link that is begun in a line of text."""
    if brace := _BRACE.search(line):
        over = _over(_TO_BRACE, rest)
        name, colon, form = brace["typed"].partition(":")
        if not colon:
            return Place("brace", name, over, figure=figure)
        return Place("figure" if name == "figure" else "form", form, over, id=name, figure=figure)
    link = _LINK.search(line)
    return Place("page", link["typed"], _over(_TO_BRACKET, rest)) if link else None


def _in_yaml(kind: str, written: Sequence[str], line: str, rest: str, figure: str) -> Place | None:
    """A key or a value of the front matter or of a figure. written: its lines above the cursor's."""
    here = above(written, line)
    if here is None:
        return None
    path = here.path if here.key is None else (*here.path, here.key)
    if path and path[-1] in PRINTING and kind != FRONT:
        inside = _in_words(line, rest, figure)
        return None if inside is None else replace(inside, kind=kind)
    place = _value(here, path) if here.key is not None else _begun(here, kind)
    if place is None:
        return None
    return replace(place, kind=kind, over=_over(_WORD, rest), figure=figure)


def _value(here: Above, path: tuple[str, ...]) -> Place | None:
    """The value of the key in this line, or of one in the `{…}` that is begun in it."""
    value = here.value
    beside = tuple(_OTHER_ITEMS.findall(value))
    if value.rfind("{") > value.rfind("}"):
        if inner := _INNER.search(value):
            return Place("value", inner["typed"], path=(*path, inner["key"]))
        if begun := _INNER_KEY.search(value):
            there = tuple(re.findall(r"([A-Za-z][\w-]*):", value[value.rfind("{") :]))
            return Place("key", begun["typed"] or "", path=path, there=there)
        return None
    item = _ITEM.search(value)
    if item is None:
        return None
    return Place("value", item["typed"], path=path, overlay=here.overlay, there=beside)


def _begun(here: Above, kind: str) -> Place | None:
    """A key that is begun, an overlay, or an item of a list written below its key."""
    if here.path in ((), ("of",)):
        return Place("key", here.typed, path=here.path, there=here.beside)
    if here.path == ("draw",) and kind != FRONT:
        if here.dash or not here.beside:
            return Place("overlay", here.typed, path=here.path, begins=not here.dash)
        return Place("key", here.typed, path=here.path, overlay=here.overlay, there=here.beside)
    if len(here.path) == 1 and here.dash:
        return Place("value", here.typed, path=here.path, there=here.items)
    return None


@dataclass(frozen=True)
class _Fence:
    number: int
    marks: str
    info: str


def _around(lines: Sequence[str]) -> list[_Fence]:
    """The fences that are open after these lines, the innermost last: examples hold other blocks."""
    opened: list[_Fence] = []
    for number, line in enumerate(lines):
        fence = _FENCE.match(line)
        if fence is None:
            continue
        marks, info = fence["marks"], fence["info"].strip()
        if opened and not info and marks[0] == opened[-1].marks[0] and len(marks) >= len(opened[-1].marks):
            opened.pop()
        elif not opened or (info and kind_and_rest(opened[-1].info)[0] == EXAMPLE):
            opened.append(_Fence(number, marks, info))
    return opened


def _up_to_fence(below: Sequence[str], marks: str) -> Sequence[str]:
    """The lines up to the one that closes a block."""
    ends = (number for number, line in enumerate(below) if line.strip(" >").startswith(marks))
    return below[: next(ends, 0)]


def _over(pattern: re.Pattern[str], rest: str) -> int:
    found = pattern.match(rest)
    return found.end() if found else 0
