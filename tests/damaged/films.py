"""A drawn WebM film in each codec that such a file may hold, and seeded damage to it."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path
from random import Random

from tests.footage.conftest import numbered
from tests.studio.film import encode

COUNT, GOP = 60, 12
CODECS: dict[str, tuple[str, dict[str, str]]] = {
    "vp8": ("libvpx", {}),
    "vp9": ("libvpx-vp9", {}),
    "vp9-hidden": ("libvpx-vp9", {"lag-in-frames": "9"}),
    "av1": ("libsvtav1", {}),
}
_KINDS = ("flips", "flips", "cut", "splice", "doubled", "zeros", "noise", "head")
_STRETCHES = (40, 400, 4000, 40_000)  # bytes
_HEAD = 600  # bytes


@dataclass(frozen=True)
class Damaged:
    """said: what was done to which film."""

    said: str
    data: bytes


def films(folder: Path) -> dict[str, bytes]:
    """The sound films by the names of CODECS."""
    made = {}
    for name, (codec, options) in CODECS.items():
        path = encode(folder / f"{name}.webm", numbered(COUNT), codec=codec, gop=GOP, options=options)
        made[name] = path.read_bytes()
    return made


def damaged(sound: Mapping[str, bytes], seed: int, number: int) -> Damaged:
    """The film of a number: the codecs in turn, the damage by chance."""
    random = Random(f"{seed} {number}")
    name = list(sound)[number % len(sound)]
    kind = random.choice(_KINDS)
    return Damaged(f"{name}, {kind}", _spoilt(bytearray(sound[name]), kind, random))


def _spoilt(data: bytearray, kind: str, random: Random) -> bytes:
    at, end = sorted(random.sample(range(len(data)), 2))
    end = min(end, at + random.choice(_STRETCHES))
    if kind in ("flips", "head"):
        room = len(data) if kind == "flips" else _HEAD
        for _ in range(random.choice((1, 1, 3, 10, 50))):
            data[random.randrange(room)] ^= 1 << random.randrange(8)
    elif kind == "cut":
        del data[at:]
    elif kind == "splice":
        del data[at:end]
    elif kind == "doubled":
        data[end:end] = data[at:end]
    elif kind == "zeros":
        data[at:end] = bytes(end - at)
    else:
        data[at:end] = random.randbytes(end - at)
    return bytes(data)
