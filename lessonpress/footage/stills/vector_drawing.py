"""A drawing in SVG looked through: one that could run a program or fetch something is refused.

A browser runs no program of an SVG within a page, and does so where it is opened by itself (SVG 2, 2.2). A
drawing needs neither, so it is refused and not mended: what was taken out might have been part of it. One
that says when it was drawn or where it lay is refused too.
"""

from __future__ import annotations

import re
from xml.etree import ElementTree

from lessonpress.footage.stills.photograph import LONGEST
from lessonpress.footage.video.failure import FootageError

_SVG = "{http://www.w3.org/2000/svg}"
_REFUSED = ("script", "foreignObject", "iframe", "embed", "object", "handler", "listener")
_OWN = re.compile(r"\s*(?:#|data:image/(?:png|jpeg|webp|gif);base64,)")
_FETCHES = re.compile(
    r"@import|url\(\s*[\"']?(?!\s*[\"']?(?:#|data:image/))|expression\(|javascript:", re.IGNORECASE
)
_FILES = {"docname", "docbase", "absref", "export-filename"}  # where it lay on its author's machine
_LINK = re.compile(r"\s*(?:#|https?:|mailto:)")
_PX = re.compile(r"\s*([0-9]+(?:\.[0-9]+)?)(?:px)?\s*")
_NUMBER = re.compile(r"[-+]?(?:\d+\.?\d*|\.\d+)(?:[eE][-+]?\d+)?")
_USUAL = (300.0, 150.0)  # CSS px of a drawing that does not say its size (CSS 2.1, 10.3.2)
_MOST = 20_000  # CSS px a side
_TYPE = "image/svg+xml"  # all that most programs say where their user wrote nothing
_WAY_OUT = "save it as plain SVG, or as PNG"


def vector_drawing(content: bytes) -> tuple[float, float]:
    """The width and height of a drawing, which is published as it is.

    Raises FootageError where it is none, or does more than show.
    """
    try:
        text = content.decode("utf-8-sig")
        if re.search(r"<!DOCTYPE|<!ENTITY|<\?xml-stylesheet", text):
            raise FootageError("it names other files at its head", _WAY_OUT)
        root = ElementTree.fromstring(text.encode())
    except (ElementTree.ParseError, ValueError, LookupError) as error:
        raise FootageError("it is not an SVG drawing", "save it as one, or link to another") from error
    if root.tag != f"{_SVG}svg":
        raise FootageError("it is not an SVG drawing", "save it as one, or link to another")
    for element in root.iter():
        wrong = _wrong(element)
        if wrong:
            raise FootageError(f"it {wrong}", _WAY_OUT)
    return _size(root)


def _size(root: ElementTree.Element) -> tuple[float, float]:
    """As a browser shows it by itself (CSS 2.1, 10.3.2): CSS px, where it says them or has a `viewBox`."""
    written = [_PX.fullmatch(root.get(side, "")) for side in ("width", "height")]
    sides = [float(one[1]) for one in written if one]
    box = [float(side) for side in _NUMBER.findall(root.get("viewBox", ""))]
    if len(sides) < len(written):
        sides = box[2:4] if len(box) == len(_USUAL) + 2 else list(_USUAL)
    width, height = sides
    if not 0 < width < _MOST or not 0 < height < _MOST:
        raise FootageError(f"it is {width:g} × {height:g} px", f"make it smaller than {_MOST} px")
    if max(width, height) > LONGEST * min(width, height):
        raise FootageError(
            f"it is {width:g} × {height:g} px, more than {LONGEST} times as long as it is broad", "crop it"
        )
    return width, height


def _wrong(element: ElementTree.Element) -> str:
    """What of an element is more than showing; "" where nothing is."""
    name = str(element.tag).rpartition("}")[2]
    if name in _REFUSED:
        return f"has a `{name}`"
    if name == "metadata" and "".join(element.itertext()).replace(_TYPE, "").strip():
        return "says who drew it, when or with what, in its `metadata`"
    if name == "style" and _FETCHES.search(element.text or ""):
        return "fetches something from elsewhere"
    for attribute, value in element.attrib.items():
        key = attribute.rpartition("}")[2].lower()
        if attribute.startswith("{") and key in _FILES and value:
            return f"says where it lay on a machine, by `{key}`"
        if key.startswith("on"):
            return f"runs a program by `{key}`"
        if key == "href" and not (_LINK if name == "a" else _OWN).match(value):
            return "leads out of itself"
        if _FETCHES.search(value):
            return "fetches something from elsewhere"
    return ""
