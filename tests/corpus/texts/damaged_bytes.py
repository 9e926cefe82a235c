"""Bits turned, stretches swapped and ends cut off in texts, stretches of one text put into another."""

from __future__ import annotations

from pathlib import Path
from random import Random

from tests.corpus.sound import TEXTS


def spoil(root: Path, random: Random) -> str:
    name = random.choice(TEXTS)
    data = bytearray((root / name).read_bytes())
    kind = random.choice(("turned", "cut", "swapped", "doubled", "zeroed", "indented", "spliced"))
    at, end = sorted(random.sample(range(len(data) + 1), 2))
    if kind == "turned":
        for _ in range(random.choice((1, 4, 40))):
            data[random.randrange(len(data))] ^= 1 << random.randrange(8)
    elif kind == "cut":
        del data[at:]
    elif kind == "swapped":
        data = data[end:] + data[at:end] + data[:at]
    elif kind == "doubled":
        data = data[:end] + data[at:]
    elif kind == "zeroed":
        data[at:end] = bytes(end - at)
    elif kind == "spliced":
        other = (root / random.choice(TEXTS)).read_bytes()
        first, last = sorted(random.sample(range(len(other) + 1), 2))
        data[at:end] = other[first:last]
    else:
        data[at:at] = random.choice(
            (b"\t", b"  ", b": ", b"- ", b"'", b'"', b"#", b"%", b"@", b"&", b"*", b"|", b"---\n")
        )
    (root / name).write_bytes(data)
    return f"{name}: {kind} at {at}"
