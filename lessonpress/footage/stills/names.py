"""What files of pictures are called. Asked of every file that is linked to, so nothing heavy is imported."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import PurePosixPath

# suffix → what Pillow calls the format; those that browsers show
FORMATS: Mapping[str, str] = {
    "jpg": "JPEG",
    "jpeg": "JPEG",
    "png": "PNG",
    "webp": "WEBP",
    "avif": "AVIF",
    "gif": "GIF",
}
VECTOR = "svg"


def is_still(path: str) -> bool:
    """Whether a file is called as a picture is."""
    return suffix_of(path) in (*FORMATS, VECTOR)


def suffix_of(path: str) -> str:
    """Without its dot, in small letters."""
    return PurePosixPath(path).suffix.removeprefix(".").lower()
