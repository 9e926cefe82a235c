"""The docket of a product: what it was made from, what was wrong, which files it put out."""

from __future__ import annotations

from array import array
from collections.abc import Collection, Iterable, Iterator, Mapping
from dataclasses import dataclass, field
from operator import itemgetter
from typing import Any, NamedTuple

from lessonpress.press.cache import Cache
from lessonpress.press.receipt import hash_of
from lessonpress.press.steps.parcel import each_unpacked, nothing_collected, packed
from lessonpress.press.steps.uses import Key, MadeOf, Use, Uses, all_numbers, renumbered
from lessonpress.records import Problem

FAULTY = "\0faulty"  # the part of a product that is whether mistakes were found with it
PUTS = "\0puts"  # and that is the files it put out
_FEW = 8  # times as many as have changed are not written again for them
_KEPT = 2  # dockets of a product: what was undone is found again
_MOST_UNUSED = 3  # products known for each that is used, before others are forgotten
FORM = 7  # of what is kept here
_TOGETHER = 4000  # products and parts that are packed as one: a packer remembers all that it packs


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
    """made_of: each input and product that was used, and its hash, in the order of use, by `Dockets.uses`.

    product: its hash. entry: its name in the cache; "" for a small one, which is `value` itself. rests:
    whether the last finished site rests on it.
    """

    made_of: MadeOf
    product: str
    entry: str
    value: Any
    problems: tuple[Problem, ...]
    puts: tuple[Put, ...]
    rests: bool = False


@dataclass
class Dockets:
    """By product the last few dockets, the newest first; and the hashes of parts of products.

    parts: key of the part → hash of the whole, hash of the part. since: keys of both that are other than in
    what was kept as a whole, whose hash is `whole`; "" where nothing was.
    """

    of: dict[Key, tuple[Docket, ...]] = field(default_factory=dict)
    parts: dict[Key, tuple[str, str]] = field(default_factory=dict)
    whole: str = ""
    since: set[Key] = field(default_factory=set)
    uses: Uses = field(default_factory=Uses)
    changed: bool = False

    def add(self, key: Key, docket: Docket) -> Docket:
        """Beside the last ones before it, and that of the finished site, which mistakes do not push out."""
        known = self.of.get(key, ())
        if known and known[0] is docket:
            return docket
        before = [one for one in known if one.made_of != docket.made_of]
        rested = [one for one in before[_KEPT - 1 :] if one.rests]
        self.of[key] = (docket, *before[: _KEPT - 1], *rested)
        self._note(key)
        return docket

    def numbered(self, key: Key, uses: Iterable[Use]) -> MadeOf:
        """Uses of a product by their numbers; those it had before have the numbers that they had."""
        return self.uses.made_of(uses, [one.made_of for one in self.of.get(key, ())])

    def rest_on(self, used: Mapping[Key, Docket]) -> None:
        """Notes what a finished site rests on. used: of each product the docket, one of those known."""
        for key, known in self.of.items():
            if len(known) == 1 and known[0].rests and used.get(key) is known[0]:
                continue  # as of most in a large site
            made_of = used[key].made_of if key in used else None
            if any(one.rests != (one.made_of == made_of) for one in known):
                self.of[key] = tuple([one._replace(rests=one.made_of == made_of) for one in known])
                self._note(key)

    def note_part(self, key: Key, whole: str, part: str) -> None:
        self.parts[key] = (whole, part)
        self._note(key)

    def _note(self, key: Key) -> None:
        self.since.add(key)
        self.changed = True

    def forget_all_but(self, used: Collection[Key]) -> None:
        """Those of products that a press no longer rests on, once they are many: of lessons long gone."""
        if len(self.of) > _MOST_UNUSED * len(used):
            self.of = {key: dockets for key, dockets in self.of.items() if key in used}
            self.parts = {key: said for key, said in self.parts.items() if (key[0], key[1], "") in used}
            self.whole, self.changed = "", True

    @classmethod
    def kept(cls, cache: Cache) -> Dockets:
        """Those of earlier presses; none where there are none that can be believed."""
        content, later = cache.entry("dockets", FORM).kept(), cache.entry("dockets", (FORM, "since")).kept()
        if content is None:
            return cls()
        try:
            with nothing_collected():
                of, parts, uses = _joined(each_unpacked(content))
                found = cls(of, parts, hash_of(content), uses=uses)
                if later is not None:
                    whole, *kept = each_unpacked(later)
                    found._put_since(whole, kept)
                return found
        except (ValueError, TypeError, IndexError, AttributeError):
            return cls()

    def _put_since(self, whole: str, kept: Iterable[_Kept]) -> None:
        """What was kept since the whole of that hash."""
        if whole == self.whole:
            of, parts, uses = _joined(kept)
            for key, dockets in of.items():
                self.of[key] = tuple(
                    [one._replace(made_of=self.numbered(key, uses.in_order(one.made_of))) for one in dockets]
                )
            self.parts |= parts
            self.since = {*of, *parts}

    def keep(self, cache: Cache) -> None:
        """All of them, or only those that are other since, while these are few: a word changes few."""
        with nothing_collected():
            if self.whole and len(self.since) * _FEW < len(self.of):
                of = {key: self.of[key] for key in self.since if key in self.of}
                parts = {key: self.parts[key] for key in self.since if key in self.parts}
                later = map(packed, (self.whole, *_to_keep(of, parts, self.uses)))
                cache.entry("dockets", (FORM, "since")).keep(*later)
            else:
                written = [packed(some) for some in _to_keep(self.of, self.parts, self.uses)]
                cache.entry("dockets", FORM).keep(*written)
                self.whole, self.since = hash_of(*written), set()
        self.changed = False


# Kept are products of a lesson together, each part with those uses that none before it has.

_Kept = tuple[list[Use], dict[Key, tuple[Docket, ...]], dict[Key, tuple[str, str]]]


def _to_keep(
    of: Mapping[Key, tuple[Docket, ...]], parts: Mapping[Key, tuple[str, str]], uses: Uses
) -> Iterator[_Kept]:
    numbers, count = array("q", [-1]) * len(uses.numbered), 0  # there, by those here
    keys = sorted(dict.fromkeys((*of, *parts)), key=itemgetter(1))
    for at in range(0, len(keys), _TOGETHER):
        some = keys[at : at + _TOGETHER]
        dockets = {key: of[key] for key in some if key in of}
        used = all_numbers(one.made_of for known in dockets.values() for one in known)
        new = sorted(number for number in used if numbers[number] < 0)
        for number in new:
            numbers[number], count = count, count + 1
        renumbered_dockets = {
            key: tuple([one._replace(made_of=renumbered(one.made_of, numbers)) for one in known])
            for key, known in dockets.items()
        }
        yield (
            [uses.numbered[number] for number in new],
            renumbered_dockets,
            {key: parts[key] for key in some if key in parts},
        )


def _joined(
    kept: Iterable[_Kept],
) -> tuple[dict[Key, tuple[Docket, ...]], dict[Key, tuple[str, str]], Uses]:
    """Raises ValueError where a docket names a use that is not in the table."""
    of: dict[Key, tuple[Docket, ...]] = {}
    parts: dict[Key, tuple[str, str]] = {}
    uses: list[Use] = []
    for some_uses, some_of, some_parts in kept:
        uses += some_uses
        of |= some_of
        parts |= some_parts
        used = all_numbers(one.made_of for dockets in some_of.values() for one in dockets)
        if max(used, default=-1) >= len(uses):
            raise ValueError("a docket names a use that is not there")
    return of, parts, Uses(uses)
