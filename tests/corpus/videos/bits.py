"""Bits turned: one, a few, many; anywhere, or in the first thousand bytes."""

from __future__ import annotations

from random import Random

from tests.corpus.videos.film import Damaged, Films, chosen, ending_of


def damaged(films: Films, random: Random) -> Damaged:
    suffix, data = chosen(films, random)
    count = random.choice((1, 1, 5, 50, 1000))
    room = random.choice((len(data), min(1000, len(data))))
    for _ in range(count):
        data[random.randrange(room)] ^= 1 << random.randrange(8)
    return Damaged(ending_of(suffix), bytes(data), f"{suffix}, {count} bits of the first {room} bytes turned")
