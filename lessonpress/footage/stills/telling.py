"""Whether a picture or a film that is published as it is says where, when or with what it was made.

Such a file is not opened: it is searched for what programs write there, so that nothing of it can do harm.
Signs: Exif 2.32, 4.5.4; XMP, ISO 16684-1; places and devices in films by Apple's and 3GPP's user data
(QuickTime File Format, user data atoms; 3GPP TS 26.244, 8.3), from memory.
"""

from __future__ import annotations

from lessonpress.footage.stills.names import FORMATS, suffix_of

_SUFFIXES = {*FORMATS, "heic", "heif", "tif", "tiff", "mp4", "m4v", "mov", "webm", "mkv", "avi", "3gp"}
_SIGNS = {
    b"Exif\0\0": "Exif",
    b"eXIf": "Exif",
    b"<x:xmpmeta": "XMP",
    b"\xa9xyz": "a place",
    b"com.apple.quicktime.": "a place or a device",
    b"com.android.": "a device",
}


def told_by(path: str, content: bytes) -> str:
    """What it tells, in words; "" where nothing was found, or the file is called like no picture or film."""
    if suffix_of(path) not in _SUFFIXES:
        return ""
    return next((said for sign, said in _SIGNS.items() if sign in content), "")
