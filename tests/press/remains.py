"""Looks for what is left of pictures and words in the bytes of every file of a folder.

Pictures are known by a difference hash of 16 × 16 cells: which cell is lighter than its left neighbour. It
outlives another size, format and lines drawn across (N. Krawetz, "Kind of like that", 2013, in 8 × 8 cells).
Whatever a browser or a mail program could show is decoded: files of pictures and of films, and pictures
within other files, also in base64.
"""

from __future__ import annotations

import base64
import email
import email.policy
import io
import re
from collections.abc import Iterator
from pathlib import Path

import av
import numpy as np
from numpy.typing import NDArray
from PIL import Image

CELLS = 16
ALIKE = 95  # of 256 cells. Plates with lines and margins differ by up to 90 from their picture, others by 105
_STARTS = re.compile(rb"\x89PNG\r\n\x1a\n|RIFF....WEBP|\xff\xd8\xff|....ftyp", re.DOTALL)
_IN_BASE64 = re.compile(rb"base64,([A-Za-z0-9+/=]+)")

Hash = NDArray[np.bool_]


def hash_of(image: Image.Image) -> Hash:
    """Rows, columns: whether a cell is lighter than the one to its left."""
    cells = image.convert("L").resize((CELLS + 1, CELLS), Image.Resampling.BOX)
    lights = np.asarray(cells, dtype=float)
    return np.asarray(lights[:, 1:] > lights[:, :-1])


def images_in(content: bytes) -> Iterator[Image.Image]:
    """Every picture that some of the bytes are."""
    for within in _IN_BASE64.findall(content):
        yield from images_in(base64.b64decode(within))
    for start in _STARTS.finditer(content):
        piece = content[start.start() :]
        if b"ftyp" in piece[:8]:
            yield from _frames(piece)
        else:
            try:
                image = Image.open(io.BytesIO(piece))
                image.load()
            except (OSError, SyntaxError, ValueError):
                continue
            yield image


def _frames(film: bytes) -> Iterator[Image.Image]:
    try:
        with av.open(io.BytesIO(film)) as opened:
            for frame in opened.decode(video=0):
                yield frame.to_image()
    except av.FFmpegError:
        return


def contents(folder: Path) -> Iterator[tuple[Path, bytes]]:
    """Every file, and every part of a letter as it is before it is encoded for the mail."""
    for file in sorted(path for path in folder.rglob("*") if path.is_file()):
        content = file.read_bytes()
        yield file, content
        if file.suffix == ".eml":
            for part in email.message_from_bytes(content, policy=email.policy.default).walk():
                if not part.is_multipart():
                    yield file, part.get_payload(decode=True) or b""  # type: ignore[misc]


def showing(folder: Path, sought: list[Hash]) -> list[Path]:
    """The files that show one of the pictures."""
    return sorted(
        {
            file
            for file, content in contents(folder)
            for image in images_in(content)
            if any(np.count_nonzero(hash_of(image) != one) < ALIKE for one in sought)
        }
    )


def saying(folder: Path, words: list[str]) -> list[Path]:
    """The files that have one of the words in their content or their path, small letters or capitals."""
    wanted = [word.casefold() for word in words]
    return sorted(
        {
            file
            for file, content in contents(folder)
            for said in (str(file.relative_to(folder)), content.decode("utf-8", errors="ignore"))
            if any(word in said.casefold() for word in wanted)
        }
    )
