"""Makes sure that products are up to date: each is made again only where one of its inputs changed.

A docket is gone through in the order in which its product once used things: while each of them is what it
was, the step would do just the same again, so its product is still good. What is then another is what the
product is made again because of. A product that is made again and says what it said is no reason for others.
"""

from __future__ import annotations

from collections.abc import Mapping
from contextlib import suppress
from dataclasses import dataclass, field
from hashlib import sha256
from pathlib import Path
from typing import Any

from lessonpress.press.cache import Cache, CacheEntry
from lessonpress.press.steps.digest import digest
from lessonpress.press.steps.dockets import FAULTY, PUTS, Docket, Dockets, Put
from lessonpress.press.steps.inputs import KINDS, Inputs
from lessonpress.press.steps.parcel import packed, unpacked
from lessonpress.press.steps.reader import Reader
from lessonpress.press.steps.shared import Shared
from lessonpress.press.steps.table import STEPS
from lessonpress.press.steps.uses import Key, Use, numbers_in

_SMALL = 500  # bytes that a product is taken for whose value is not packed
_TIMES = 5  # a product whose files change while it is made is made again, so often
NEW: Key = ("new", "", "")


@dataclass
class Works:
    """One press. redone: what was made again → the first thing that was another, NEW for a first time.

    making: the readers of the products that are being made, one for the sake of another, the last one now.
    """

    root: Path
    cache: Cache
    inputs: Inputs
    dockets: Dockets
    redone: dict[Key, Key] = field(default_factory=dict)
    shared: Shared = field(default_factory=Shared)
    making: list[Reader] = field(default_factory=list)
    _sure: dict[Key, str] = field(default_factory=dict)
    _now: dict[Key, Docket] = field(default_factory=dict)
    _same: set[int] = field(default_factory=set)  # the numbers of uses that hold

    def sure(self, key: Key) -> str:
        """The hash of an input, a product or a part of one, as it is now."""
        digest = self._sure.get(key)
        if digest is None:
            digest = self._sure[key] = self._looked(key)
        return digest

    @property
    def used(self) -> Mapping[Key, Docket]:
        """The docket of every product that this press rests on."""
        return self._now

    def entries(self) -> set[tuple[str, str]]:
        """Shelf and name of every entry of the cache that this press rests on."""
        used = {(key[0], docket.entry) for key, docket in self._now.items() if docket.entry}
        return used.union((put.shelf, put.name) for one in self._now.values() for put in one.puts)

    def take_over(self, key: Key, docket: Docket, uses: list[Use], because: Key) -> None:
        """A product that another process has made, of these uses."""
        self.dockets.add(key, docket._replace(made_of=self.dockets.numbered(key, uses)))
        if key not in self._sure:
            self.redone[key] = because

    def good(self, key: Key) -> bool:
        """Whether a product is as it is to be, without making it: what it was made of is made sure of."""
        return key in self._sure or self._still_good(key) is None

    def value(self, key: Key) -> Any:
        """A product or a part of one."""
        step, of, part = key
        if part:
            return part_of(self.value((step, of, "")), part)
        held = self.shared.held(key, self.sure(key))
        return self._opened(key) if held is None else held[0]

    def docket(self, key: Key) -> Docket:
        self.sure(key)
        return self._now[key]

    def content(self, key: Key, put: Put) -> bytes:
        """The bytes of a file that the product of `key` put out. Raises OSError where it has gone."""
        content = self._bytes_of(put)
        if content is None:
            self._make(key, key)
            same = (one for one in self._now[key].puts if put.path == one.path or put.hashed == one.hashed)
            again = next(same, None)
            content = None if again is None else self._bytes_of(again)
        if content is None:
            raise OSError(f"{put.path} went bad or was taken away while it was in use; ask again")
        return content

    def own_file(self, path: str) -> bytes:
        """A file of the author's, as it is. Raises OSError for what lies outside the site.

        Its links were checked when they were read; a cache that somebody sent along may name any file.
        """
        from lessonpress.manuscript import (
            fault_of_file,  # a press with nothing to do reads no text
        )

        fault = fault_of_file(self.root, self.root / path)
        if fault is not None:
            raise OSError(f"{path}: {fault[0]}; {fault[1]}")
        return (self.root / path).read_bytes()

    def put_away(self, path: str, content: bytes) -> Put:
        hashed, size = self.hash_and_size(content)
        entry = self.cache.entry("files", hashed)
        if entry.kept() is None:
            entry.keep(content)
        return Put(path, hashed, size, "files", entry.name)

    @staticmethod
    def hash_and_size(content: bytes) -> tuple[str, int]:
        return sha256(content).hexdigest(), len(content)

    def _bytes_of(self, put: Put) -> bytes | None:
        if not put.shelf:
            return self.own_file(put.name)
        return CacheEntry(self.cache.folder, put.shelf, put.name).kept()

    def _looked(self, key: Key) -> str:
        step, of, part = key
        if step in KINDS:
            return self.inputs.value(step, of)
        if part:
            return self._looked_at_part(key)
        because = self._still_good(key)
        return self._sure[key] if because is None else self._make(key, because)

    def _still_good(self, key: Key) -> Key | None:
        """None where all that a docket lists is as it was: it is the product's then. Else what is another.

        Than for the finished site, where it rests on one of them: a mistake since is no cause.
        """
        because, rests = NEW, False
        for docket in self.dockets.of.get(key, ()):
            other = self._another(docket)
            if other is None:
                self._now[key] = self.dockets.add(key, docket)
                self._sure[key] = docket.product
                return None
            if because == NEW or (docket.rests and not rests):
                because, rests = other, docket.rests
        return because

    def _another(self, docket: Docket) -> Key | None:
        """The first thing that is another than when the docket was written."""
        numbers, same = numbers_in(docket.made_of), self._same
        if same.issuperset(numbers):
            return None
        for number in numbers:
            if number not in same:
                key, hashed = self.dockets.uses.numbered[number]
                if self.sure(key) != hashed:
                    return key
                same.add(number)
        return None

    def found_again_because(self, key: Key) -> Key | None:
        """Of a product that is what it was before the last press: the first thing that is another than then.

        None where no docket before the present one is known.
        """
        for docket in self.dockets.of.get(key, ())[1:]:
            for one, hashed in self.dockets.uses.in_order(docket.made_of):
                now = self.sure(one) if one[0] in KINDS else self._sure.get(one, hashed)
                if now != hashed:
                    return one
        return None

    def _looked_at_part(self, key: Key) -> str:
        whole = self.sure((key[0], key[1], ""))
        if key[2] == FAULTY:
            return str(any(one.severity == "error" for one in self._now[key[0], key[1], ""].problems))
        if key[2] == PUTS:
            return digest([(put.path, put.hashed) for put in self._now[key[0], key[1], ""].puts])
        known = self.dockets.parts.get(key)
        if known is not None and known[0] == whole:
            return known[1]
        hashed = digest(self.value(key))
        self.dockets.note_part(key, whole, hashed)
        return hashed

    def _opened(self, key: Key) -> Any:
        """A product that was made before; made again where what was kept of it has gone or gone bad."""
        docket = self._now[key]
        if not docket.entry:
            return docket.value
        content = CacheEntry(self.cache.folder, key[0], docket.entry).kept()
        if content is not None:
            with suppress(ValueError):
                value = unpacked(content)
                self.shared.hold(key, docket.product, value, len(content))
                return value
        self._make(key, key)
        return self.value(key)

    def _make(self, key: Key, because: Key) -> str:
        for _ in range(_TIMES):
            reader = Reader(self)
            reader.noted[("program", "", "")] = None
            value = self._made(reader, key)
            noted = list(reader.noted)
            if all(self.inputs.still(of) for kind, of, _ in noted if kind == "file"):
                break
            self.inputs.look_again()
            self._sure = {one: hashed for one, hashed in self._sure.items() if one[0] not in KINDS}
            self._same.clear()
        else:
            raise OSError(
                f"what {key[0]} {key[1]} is made of changes all the while; ask again when it is whole"
            )
        made_of = tuple((one, self.sure(one)) for one in noted)
        product = digest(value)
        reported, puts, name = tuple(reader.problems.collected), tuple(reader.puts), ""
        small, weight = value is None or STEPS[key[0]].small, _SMALL
        if not small:
            entry = self.cache.entry(key[0], (key[1], [[list(one), hashed] for one, hashed in made_of]))
            content = packed(value)
            entry.keep(content)
            name, weight = entry.name, len(content)
        numbers = self.dockets.numbered(key, made_of)
        docket = Docket(numbers, product, name, value if small else None, reported, puts)
        self._now[key] = self.dockets.add(key, docket)
        self.shared.hold(key, product, value, weight)
        if self._sure.get(key, product) != product:
            self._same.clear()
        self._sure[key] = product
        self.redone[key] = because
        return product

    def _made(self, reader: Reader, key: Key) -> Any:
        self.making.append(reader)
        try:
            return STEPS[key[0]].make(reader, key[1])
        finally:
            self.making.pop()


def part_of(value: Any, part: str) -> Any:
    """A part of a product: the value of a key (else None), whether it is in, an attribute."""
    if isinstance(value, Mapping):
        return value.get(part)
    if isinstance(value, frozenset):
        return part in value
    return None if value is None else getattr(value, part)
