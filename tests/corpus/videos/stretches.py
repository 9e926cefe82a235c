"""Stretches cut off, swapped, zeroed, doubled and filled with noise."""

from __future__ import annotations

from random import Random

from tests.corpus.videos.film import Damaged, Films, chosen, ending_of


def damaged(films: Films, random: Random) -> Damaged:
    suffix, data = chosen(films, random)
    at, end = sorted(random.sample(range(len(data)), 2))
    kind = random.choice(("cut off", "head gone", "swapped", "zeroed", "doubled", "noise", "a few bytes"))
    if kind == "cut off":
        data = data[:at]
    elif kind == "head gone":
        data = data[at:]
    elif kind == "swapped":
        data = data[end:] + data[at:end] + data[:at]
    elif kind == "zeroed":
        data[at:end] = bytes(end - at)
    elif kind == "doubled":
        data = data[:end] + data[at:]
    elif kind == "noise":
        data[at:end] = random.randbytes(end - at)
    else:
        data = data[: random.randrange(64)]
    return Damaged(ending_of(suffix), bytes(data), f"{suffix}, {kind} at {at}..{end} bytes")
