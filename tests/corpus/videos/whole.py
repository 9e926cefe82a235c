"""Sound films of every codec and container: they press, or are refused with a reason."""

from __future__ import annotations

from random import Random

from tests.corpus.videos.film import Damaged, Films, chosen, ending_of


def damaged(films: Films, random: Random) -> Damaged:
    suffix, data = chosen(films, random)
    return Damaged(ending_of(suffix), bytes(data), f"{suffix}, whole")
