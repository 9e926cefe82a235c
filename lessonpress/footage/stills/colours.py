"""A profile of colours without what it says of a device, a maker or a time: only how numbers become colours.

ICC.1:2022. The header (7.2) has a date, a device and who made the profile; tags (9.2) have more, in words. Of
these a profile must have a description and a copyright, which are kept and say nothing.
"""

from __future__ import annotations

import struct

_HEADER, _ENTRY = 128, 12  # bytes
# from, to, in the header: date; platform; manufacturer, model and attributes of the device; creator, id
_SAID = ((24, 36), (40, 44), (48, 64), (80, 100))
_COLOURS = {b"wtpt", b"bkpt", b"chad", b"gamt", b"cicp", b"rXYZ", b"gXYZ", b"bXYZ"}
_COLOURS |= {
    b"rTRC",
    b"gTRC",
    b"bTRC",
    b"kTRC",
    *(f"{way}{n}".encode() for way in ("A2B", "B2A") for n in range(3)),
}
_MOST = 4 << 20  # bytes; a profile of a photograph has some hundred to some thousand


def bare_profile(profile: bytes) -> bytes:
    """The profile with its colours alone; b"" where it is none that can be read."""
    try:
        tags = _tags(profile)
    except (struct.error, ValueError):
        return b""
    four = profile[8] >= 4  # the version, on which the type of words rests
    words = {b"desc": _localized("colours") if four else _described("colours")}
    words[b"cprt"] = _localized("none") if four else b"text\0\0\0\0none\0"
    return _whole(profile[:_HEADER], {**words, **tags})


def _tags(profile: bytes) -> dict[bytes, bytes]:
    if not _HEADER < len(profile) <= _MOST or profile[36:40] != b"acsp":
        raise ValueError("no profile")
    (count,) = struct.unpack_from(">I", profile, _HEADER)
    tags = {}
    for number in range(min(count, 100)):
        name, at, size = struct.unpack_from(">4sII", profile, _HEADER + 4 + _ENTRY * number)
        if at + size > len(profile):
            raise ValueError("cut short")
        if name in _COLOURS:
            tags[name] = profile[at : at + size]
    return tags


def _localized(words: str) -> bytes:
    """ICC.1:2022, 10.15: one record, English."""
    said = words.encode("utf-16-be")
    return b"mluc\0\0\0\0" + struct.pack(">II4sII", 1, 12, b"enUS", len(said), 28) + said


def _described(words: str) -> bytes:
    """ICC.1:2001-04, 6.5.17: words in ASCII, none in Unicode or for old systems."""
    said = words.encode("ascii") + b"\0"
    return b"desc\0\0\0\0" + struct.pack(">I", len(said)) + said + bytes(8 + 3 + 67)


def _whole(header: bytes, tags: dict[bytes, bytes]) -> bytes:
    """Content that is the same for several tags lies there once, as in most profiles."""
    at = _HEADER + 4 + _ENTRY * len(tags)
    table, body, lies = struct.pack(">I", len(tags)), b"", dict[bytes, int]()
    for name, content in tags.items():
        if content not in lies:
            lies[content] = at + len(body)
            body += content + bytes(-len(content) % 4)
        table += struct.pack(">4sII", name, lies[content], len(content))
    head = bytearray(header)
    head[0:4] = struct.pack(">I", at + len(body))
    for begin, end in _SAID:
        head[begin:end] = bytes(end - begin)
    return bytes(head) + table + body
