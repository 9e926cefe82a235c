"""The docket of a product: what it was made from, what was wrong, which files it put out."""

from __future__ import annotations

from collections.abc import Collection, Hashable, Mapping
from dataclasses import dataclass, field
from typing import Any, NamedTuple, TypeVar

from lessonpress.press.cache import Cache
from lessonpress.press.receipt import hash_of
from lessonpress.press.steps.parcel import nothing_collected, packed, unpacked
from lessonpress.records import Problem

Key = tuple[str, str, str]  # a step or an input; what of; the part of the product, "" for the whole
Use = tuple[Key, str]  # of a thing, with the hash that it had
FAULTY = "\0faulty"  # the part of a product that is whether mistakes were found with it
PUTS = "\0puts"  # and that is the files it put out
_FEW = 8  # times as many as have changed are not written again for them
_KEPT = 2  # dockets of a product: what was undone is found again
_MOST_UNUSED = 3  # products known for each that is used, before others are forgotten
FORM = 5  # of what is kept here


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

    product: its hash. entry: its name in the cache; "" for a small one, which is `value` itself. rests:
    whether the last finished site rests on it.
    """

    made_of: tuple[Use, ...]
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
    changed: bool = False
    _uses: dict[Use, Use] = field(default_factory=dict)  # each once: an archive has many times as many

    def add(self, key: Key, docket: Docket) -> Docket:
        """Beside the last ones before it, and that of the finished site, which mistakes do not push out."""
        known = self.of.get(key, ())
        if known and known[0] is docket:
            return docket
        docket = docket._replace(made_of=tuple([self._uses.setdefault(use, use) for use in docket.made_of]))
        before = [one for one in known if one.made_of != docket.made_of]
        rested = [one for one in before[_KEPT - 1 :] if one.rests]
        self.of[key] = (docket, *before[: _KEPT - 1], *rested)
        self._note(key)
        return docket

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
                found = cls(*_opened(*unpacked(content)), hash_of(content))
                if later is not None:
                    found._put_since(*unpacked(later))
                return found
        except (ValueError, TypeError, IndexError):
            return cls()

    def _put_since(self, whole: str, plain: _Plain) -> None:
        """What was kept since the whole of that hash."""
        if whole == self.whole:
            of, parts = _opened(*plain)
            self.of |= of
            self.parts |= parts
            self.since = {*of, *parts}

    def keep(self, cache: Cache) -> None:
        """All of them, or only those that are other since, while these are few: a word changes few."""
        with nothing_collected():
            if self.whole and len(self.since) * _FEW < len(self.of):
                of = {key: self.of[key] for key in self.since if key in self.of}
                parts = {key: self.parts[key] for key in self.since if key in self.parts}
                later = packed((self.whole, _plain(of, parts)))
                cache.entry("dockets", (FORM, "since")).keep(later)
            else:
                written = packed(_plain(self.of, self.parts))
                cache.entry("dockets", FORM).keep(written)
                self.whole, self.since = hash_of(written), set()
        self.changed = False


# What is kept is plain: an archive has a hundred thousand uses of ten thousand things. Numbers for things and
# for their uses, each once, and tuples for records are read in a tenth of the time.

_T = TypeVar("_T", bound=Hashable)
_Row = tuple[tuple[int, ...], str, str, Any, tuple[Problem, ...], list[tuple[Any, ...]], bool]
_Plain = tuple[list[Key], list[Use], dict[int, list[_Row]], dict[int, tuple[str, str]]]


class _Numbers(dict[_T, int]):
    """Things numbered as they come."""

    def __missing__(self, key: _T) -> int:
        number = self[key] = len(self)
        return number


def _plain(of: Mapping[Key, tuple[Docket, ...]], parts: Mapping[Key, tuple[str, str]]) -> _Plain:
    keys, uses = _Numbers[Key](), _Numbers[Use]()
    rows = {keys[key]: [_row(docket, uses) for docket in dockets] for key, dockets in of.items()}
    said = {keys[key]: hashes for key, hashes in parts.items()}
    return list(keys), list(uses), rows, said


def _row(docket: Docket, uses: _Numbers[Use]) -> _Row:
    made_of = tuple([uses[use] for use in docket.made_of])
    puts = [tuple(put) for put in docket.puts]
    return made_of, docket.product, docket.entry, docket.value, docket.problems, puts, docket.rests


def _opened(
    keys: list[Key],
    uses: list[Use],
    rows: dict[int, list[_Row]],
    parts: dict[int, tuple[str, str]],
) -> tuple[dict[Key, tuple[Docket, ...]], dict[Key, tuple[str, str]]]:
    use_of = uses.__getitem__

    def docket(row: _Row) -> Docket:
        made_of, product, entry, value, problems, puts, rests = row
        put_out = tuple(map(Put._make, puts))
        return Docket(tuple(map(use_of, made_of)), product, entry, value, problems, put_out, rests)

    of = {keys[key]: tuple(map(docket, several)) for key, several in rows.items()}
    return of, {keys[key]: said for key, said in parts.items()}
