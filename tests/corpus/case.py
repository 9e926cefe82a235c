"""A case: one way of spoiling the sound site, made again from its family, its number and the seed."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from pathlib import Path
from random import Random

CANARY = "xcanary"  # part of every script: where it is met, the script has reached a page

SpoilText = Callable[[Path, Random], str]
SpoilVideo = Callable[[Path, Random], str]


@dataclass(frozen=True)
class Case:
    """spoil: changes the site and says in a line what it did."""

    family: str
    number: int
    seed: int
    spoil: Callable[[Path, Random], str]
    video: bool = False

    @property
    def name(self) -> str:
        return f"{self.family}-{self.number}"

    @property
    def random(self) -> Random:
        return Random(f"{self.seed} {self.family} {self.number}")

    def made(self, root: Path) -> str:
        return self.spoil(root, self.random)


def cases_of(
    families: Mapping[str, Callable[[Path, Random], str]], count: int, seed: int, *, video: bool
) -> list[Case]:
    """`count` cases, the families in turn, so that a small slice has some of each."""
    names = list(families)
    return [
        Case(names[at % len(names)], at // len(names), seed, families[names[at % len(names)]], video)
        for at in range(count)
    ]
