"""The docket of a product: what it was made from, what was wrong, which files it put out."""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import dataclass, field
from typing import Any, NamedTuple

from lessonpress.press.cache import Cache
from lessonpress.press.steps.parcel import packed, unpacked
from lessonpress.records import Problem

Key = tuple[str, str, str]  # a step or an input; what of; the part of the product, "" for the whole
FAULTY = "\0faulty"  # the part of a product that is whether mistakes were found with it
_KEPT = 2  # dockets of a product: what was undone is found again
_MOST_UNUSED = 3  # products known for each that is used, before others are forgotten
FORM = 1  # of what is kept here


class Put(NamedTuple):
    """A file of the site. hashed: SHA-256 of its bytes. shelf, name: of its content's entry in the cache.

    A shelf of "" is for a file of the author's own, which is published as it is; name: its path.
    """

    path: str
    hashed: str
    size: int
    shelf: str
    name: str


class Docket(NamedTuple):
    """made_of: each input and product that was used, and its hash, in the order of use.

    product: its hash. entry: its name in the cache; "" for a small one, which is `value` itself.
    """

    made_of: tuple[tuple[Key, str], ...]
    product: str
    entry: str
    value: Any
    problems: tuple[Problem, ...]
    puts: tuple[Put, ...]


@dataclass
class Dockets:
    """By product the last few dockets, the newest first; and the hashes of parts of products.

    parts: key of the part → hash of the whole, hash of the part.
    """

    of: dict[Key, tuple[Docket, ...]] = field(default_factory=dict)
    parts: dict[Key, tuple[str, str]] = field(default_factory=dict)

    def add(self, key: Key, docket: Docket) -> None:
        before = [one for one in self.of.get(key, ()) if one.made_of != docket.made_of]
        self.of[key] = (docket, *before[: _KEPT - 1])

    def forget_all_but(self, used: Collection[Key]) -> None:
        """Those of products that a press no longer rests on, once they are many: of lessons long gone."""
        if len(self.of) > _MOST_UNUSED * len(used):
            self.of = {key: dockets for key, dockets in self.of.items() if key in used}
            self.parts = {key: said for key, said in self.parts.items() if (key[0], key[1], "") in used}

    @classmethod
    def kept(cls, cache: Cache) -> Dockets:
        """Those of earlier presses; none where there are none that can be believed."""
        content = cache.entry("dockets", FORM).kept()
        try:
            return cls() if content is None else cls(*unpacked(content))
        except (ValueError, TypeError):
            return cls()

    def keep(self, cache: Cache) -> None:
        cache.entry("dockets", FORM).keep(packed((self.of, self.parts)))
