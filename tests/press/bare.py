"""What a file says beside its picture: parts and tags that no picture needs, read by their formats.

PNG: W3C PNG, third edition, 5.3. WebP: RFC 9649, 2.3. JPEG: ITU-T T.81, annex B. GIF: GIF89a, 24. AVIF and
MP4: ISO/IEC 14496-12 boxes, tags as PyAV reads them.
"""

from __future__ import annotations

import base64
import re
import struct
from collections.abc import Iterator
from io import BytesIO

import av
from PIL import Image

# what encoders sign with, and what carries place, device or time
SIGNS = (b"x264", b"x265", b"Lavf", b"Lavc", b"libvpx", b"videolan", b"Exif\0", b"<x:xmpmeta", b"xpacket")
SIGNS += (b"http://ns.adobe.com", b"Photoshop 3.0", b"GPSLatitude", b"creation_time", b"ISO6709", b"MPF\0")
_PNG_PARTS = {b"IHDR", b"PLTE", b"tRNS", b"IDAT", b"IEND", b"iCCP"}
_PNG_WORDS = {"Title", "Description", "Copyright"}  # ours, of a diagram
_WEBP_PARTS = {b"VP8 ", b"VP8L", b"VP8X", b"ALPH", b"ICCP"}
_JPEG_PARTS = {0xDB, 0xC0, 0xC2, 0xC4, 0xDA, 0xDD, 0xE0, 0xE2, 0xEE}  # JFIF, colours, and what is decoded
_FILM_TAGS = {"major_brand", "minor_version", "compatible_brands", "language", "handler_name", "vendor_id"}
_NOTHING = {"und", "VideoHandler", "[0][0][0][0]"}
_WITHIN = re.compile(rb"data:[a-z]+/[\w.+-]+;base64,([A-Za-z0-9+/=]+)")


def kind_of(content: bytes) -> str:
    """What a file holds, by how it begins; "" for what is neither picture nor film."""
    for start, kind in ((b"\x89PNG", "png"), (b"\xff\xd8\xff", "jpeg"), (b"GIF8", "gif")):
        if content.startswith(start):
            return kind
    if content[:4] == b"RIFF" and content[8:12] == b"WEBP":
        return "webp"
    if content[4:8] == b"ftyp":
        return "avif" if content[8:11] == b"avi" else "film"
    return "film" if content.startswith(b"\x1aE\xdf\xa3") else ""


def said_beside(content: bytes) -> list[str]:
    """All that a picture or film says beside what it shows, a line each."""
    read = {"png": _png, "webp": _webp, "jpeg": _jpeg, "gif": _gif, "avif": _avif, "film": _film}
    said = list(read[kind_of(content)](content))
    return said + [sign.decode() for sign in SIGNS if sign in content]


def within(content: bytes) -> Iterator[bytes]:
    """Pictures and films that a text holds."""
    for found in _WITHIN.finditer(content):
        inner = base64.b64decode(found[1])
        if kind_of(inner):
            yield inner


def _png(content: bytes) -> Iterator[str]:
    at, part = 8, b""
    while part != b"IEND":
        size, part = struct.unpack_from(">I4s", content, at)
        word = content[at + 8 : at + 8 + size].split(b"\0")[0].decode("latin-1")
        known = word in _PNG_WORDS if part == b"iTXt" else part in _PNG_PARTS
        if not known:
            yield f"{part.decode()} {word[:20]!r}"
        if part == b"iCCP":
            yield from _colours(Image.open(BytesIO(content)).info["icc_profile"])
        at += size + 12
    yield from _after(content, at)


def _webp(content: bytes) -> Iterator[str]:
    at = 12
    while at < len(content):
        part, size = struct.unpack_from("<4sI", content, at)
        if part not in _WEBP_PARTS:
            yield part.decode("latin-1")
        if part == b"ICCP":
            yield from _colours(content[at + 8 : at + 8 + size])
        at += 8 + size + size % 2


def _jpeg(content: bytes) -> Iterator[str]:
    at = 2
    while content[at + 1] != 0xD9:
        marker, size = content[at + 1], int.from_bytes(content[at + 2 : at + 4])
        if marker not in _JPEG_PARTS:
            yield f"segment {marker:02X}"
        at += 2 + size
        if marker == 0xDA:  # entropy-coded data up to the next marker that is no restart
            while content[at] != 0xFF or content[at + 1] in (0, *range(0xD0, 0xD8)):
                at += 1
    yield from _after(content, at + 2)
    profile = Image.open(BytesIO(content)).info.get("icc_profile")
    if profile:
        yield from _colours(profile)


def _gif(content: bytes) -> Iterator[str]:
    if "comment" in Image.open(BytesIO(content)).info or b"\x21\xfe" in content:
        yield "a comment"


def _avif(content: bytes) -> Iterator[str]:
    picture = Image.open(BytesIO(content))
    if picture.getexif() or "xmp" in picture.info:
        yield "Exif or XMP"
    if picture.info.get("icc_profile"):
        yield from _colours(picture.info["icc_profile"])


def _film(content: bytes) -> Iterator[str]:
    with av.open(BytesIO(content)) as film:
        tags = [*film.metadata.items(), *(tag for one in film.streams for tag in one.metadata.items())]
    for tag, value in tags:
        if tag not in _FILM_TAGS or (
            tag in ("language", "handler_name", "vendor_id") and value not in _NOTHING
        ):
            yield f"{tag}: {value}"


def _after(content: bytes, at: int) -> Iterator[str]:
    if at < len(content):
        yield f"{len(content) - at} bytes behind the picture"


def _colours(profile: bytes) -> Iterator[str]:
    """ICC.1:2022, 7.2: when and for which device a profile was made, and who made it."""
    for name, begin, end in (("time", 24, 36), ("device", 48, 64), ("creator", 80, 84)):
        if any(profile[begin:end]):
            yield f"{name} of the profile of colours"
