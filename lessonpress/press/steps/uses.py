"""What products were made of: each use once, by its number.

An archive has a hundred thousand uses of ten thousand things. As numbers in bytes they take little memory,
are read as they lie in the cache, and that all of a product's are known to hold is seen in one go.
"""

from __future__ import annotations

from array import array
from collections.abc import Iterable, Mapping, Sequence, Set
from typing import Final

Key = tuple[str, str, str]  # a step or an input; what of; the part of the product, "" for the whole
Use = tuple[Key, str]  # of a thing, with the hash that it had
MadeOf = bytes  # numbers of uses in the order in which they came, as `numbers_in` reads them
_KIND: Final = "I"


class Uses:
    """A table of uses. numbered: by their numbers. It grows, and no number changes."""

    def __init__(self, numbered: Iterable[Use] = ()) -> None:
        self.numbered = list(numbered)
        self._added: dict[Use, int] = {}

    def made_of(self, uses: Iterable[Use], known: Iterable[MadeOf] = ()) -> MadeOf:
        """These uses by their numbers; added where they are neither among the known nor were added before.

        One that is elsewhere in the table is then there twice: to look for it in all of an archive's takes
        longer than all else that a word asks for.
        """
        near = {self.numbered[number]: number for number in all_numbers(known)}
        return array(_KIND, [self._number(use, near) for use in uses]).tobytes()

    def in_order(self, made_of: MadeOf) -> list[Use]:
        return [self.numbered[number] for number in numbers_in(made_of)]

    def _number(self, use: Use, near: Mapping[Use, int]) -> int:
        number = near.get(use)
        if number is None:
            number = self._added.setdefault(use, len(self.numbered))
            if number == len(self.numbered):
                self.numbered.append(use)
        return number


def numbers_in(made_of: MadeOf) -> Iterable[int]:
    return memoryview(made_of).cast(_KIND)


def all_numbers(several: Iterable[MadeOf]) -> Set[int]:
    """Of all the uses in several."""
    return set(numbers_in(b"".join(several)))


def renumbered(made_of: MadeOf, numbers: Sequence[int]) -> MadeOf:
    """The same uses in another table. numbers: there, by those here."""
    return array(_KIND, map(numbers.__getitem__, numbers_in(made_of))).tobytes()
