"""Damage to photographs: bits turned, ends cut off, two spliced, sizes that lie, files that are none."""

from __future__ import annotations

import zlib
from pathlib import Path
from random import Random

from tests.corpus.case import SpoilText
from tests.corpus.sound import PAGE, PHOTO, PHOTO_CARD, photo

KINDS = {"JPEG": ".jpg", "PNG": ".png", "WEBP": ".webp"}
_THINGS = {
    "nothing": b"",
    "zeros": bytes(4000),
    "a text": b"not a photograph\n" * 100,
    "a drawing": b'<svg xmlns="http://www.w3.org/2000/svg" onload="xcanary()"/>',
    "a script behind a head": b"GIF89a/*" + bytes(20) + b"*/=xcanary();",
    "an archive": b"PK\x03\x04" + bytes(200),
    "a drawing program": b"%!PS-Adobe-3.0 EPSF-3.0\n%%BoundingBox: 0 0 9 9\nshowpage\n",
}
_SIZES = (0, 1, 16_384, 60_000, 0x7FFF_FFFF)  # px


def _made(root: Path, random: Random) -> tuple[str, bytearray]:
    """A sound photograph of some kind: its kind, and its bytes."""
    kind = random.choice(list(KINDS))
    return kind, bytearray(photo(kind, root / "made").read_bytes())


def _put(root: Path, data: bytes, suffix: str) -> None:
    """Puts a file in the place of the site's photograph."""
    (root / "made").unlink(missing_ok=True)
    (root / PHOTO).unlink()
    path = (root / PHOTO).with_suffix(suffix)
    path.write_bytes(data)
    (root / PHOTO_CARD).rename(f"{path}.yaml")
    page = root / PAGE
    page.write_text(page.read_text().replace(Path(PHOTO).name, path.name))


def _bits(root: Path, random: Random) -> str:
    kind, data = _made(root, random)
    count, room = random.choice((1, 5, 50, 500)), random.choice((len(data), min(200, len(data))))
    for _ in range(count):
        data[random.randrange(room)] ^= 1 << random.randrange(8)
    _put(root, data, KINDS[kind])
    return f"{kind}, {count} bits of the first {room} bytes turned"


def _stretches(root: Path, random: Random) -> str:
    kind, data = _made(root, random)
    at, end = sorted(random.sample(range(len(data)), 2))
    how = random.choice(("cut", "spliced", "zeroed", "doubled", "noise"))
    if how == "cut":
        del data[at:]
    elif how == "spliced":
        _, other = _made(root, random)
        data = data[:at] + other[at:]
    elif how == "zeroed":
        data[at:end] = bytes(end - at)
    elif how == "doubled":
        data[end:end] = data[at:end]
    else:
        data[at:end] = random.randbytes(end - at)
    _put(root, data, KINDS[kind])
    return f"{kind}, {how} at {at}..{end}"


def _lies(root: Path, random: Random) -> str:
    """A PNG whose head states another size, its check sum right (ISO/IEC 15948, 11.2.2)."""
    data = bytearray(photo("PNG", root / "made").read_bytes())
    wide, high = random.choice(_SIZES), random.choice(_SIZES)
    data[16:24] = wide.to_bytes(4, "big") + high.to_bytes(4, "big")
    data[29:33] = zlib.crc32(data[12:29]).to_bytes(4, "big")
    _put(root, data, ".png")
    return f"a PNG that says {wide} × {high} px"


def _foreign(root: Path, random: Random) -> str:
    name = random.choice(list(_THINGS))
    suffix = random.choice([*KINDS.values(), ".gif", ".svg"])
    _put(root, _THINGS[name], suffix)
    return f"{name} as {suffix}"


FAMILIES: dict[str, SpoilText] = {
    "photo-bits": _bits,
    "photo-stretches": _stretches,
    "photo-sizes": _lies,
    "photo-foreign": _foreign,
}
