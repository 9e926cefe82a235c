"""The reader of a step: everything it gives is noted, so that a docket lists what a product is made of."""

from __future__ import annotations

from dataclasses import dataclass, field
from datetime import date, timedelta
from pathlib import Path
from typing import TYPE_CHECKING, Any

from lessonpress.press.cache import Cache, CacheEntry
from lessonpress.press.steps.dockets import FAULTY, PUTS, Put
from lessonpress.press.steps.inputs import ABSENT
from lessonpress.press.steps.uses import Key
from lessonpress.records import Problems

if TYPE_CHECKING:
    from lessonpress.press.steps.works import Works


@dataclass
class Reader:
    """For one product. problems: what is wrong with it. puts: the files that it puts out.

    noted: what was used, in the order of first use.
    """

    works: Works
    noted: dict[Key, None] = field(default_factory=dict)
    problems: Problems = field(default_factory=Problems)
    puts: list[Put] = field(default_factory=list)

    @property
    def root(self) -> Path:
        return self.works.root

    @property
    def cache(self) -> Cache:
        return self.works.cache

    def value(self, step: str, of: str = "", part: str = "") -> Any:
        """A product, or the part of it: an attribute, the value of a key (else None), whether it is in."""
        return self.works.value(self._note((step, of, part)))

    def faulty(self, step: str, of: str = "") -> bool:
        """Whether mistakes were found with a product."""
        return self.works.sure(self._note((step, of, FAULTY))) == str(True)

    def puts_of(self, step: str, of: str = "") -> tuple[Put, ...]:
        """The files that a product puts out."""
        self._note((step, of, PUTS))
        return self.works.docket((step, of, "")).puts

    def there(self, path: str) -> bool:
        """Whether there is something at a path of the site; its content is noted."""
        return self.works.sure(self._note(("file", path, ""))) != ABSENT

    def uses(self, path: str) -> Path:
        """A file that the step will read by itself."""
        self._note(("file", path, ""))
        return self.works.inputs.path_to(path)

    def lists(self, path: str) -> Path:
        """A folder that the step will list by itself."""
        self._note(("folder", path, ""))
        return self.works.inputs.path_to(path)

    def lists_all(self, path: str) -> Path:
        """A folder that the step will list by itself with all beneath it, hidden files too."""
        self._note(("tree", path, ""))
        return self.works.inputs.path_to(path)

    def option(self, what: str) -> bool:
        return self.works.sure(self._note(("asked", what, ""))) == str(True)

    def library(self, name: str) -> None:
        """A library whose version decides what the step makes."""
        self._note(("library", name, ""))

    @property
    def today(self) -> date:
        """The site's day; what it is compared with is noted, and the day only where it is counted from."""
        zone = self.value("site.yaml", "", "timezone") or "UTC"
        day = self.works.inputs.options.today(zone)
        return _Today(day.year, day.month, day.day)._noting(self, zone)

    def put(self, path: str, content: bytes) -> None:
        """Puts out a file of the site."""
        self.puts.append(self.works.put_away(path, content))

    def put_kept(self, path: str, entry: CacheEntry) -> None:
        """The same for content that has an entry of its own in the cache."""
        self.puts.append(Put(path, *self.works.hash_and_size(entry.content()), entry.shelf, entry.name))

    def _note(self, key: Key) -> Key:
        self.noted.setdefault(key)
        self.works.sure(key)
        return key


class _Today(date):
    """A day that notes what it is compared with: most of what an author writes lies in the past for good."""

    _reader: Reader
    _zone: str

    def _noting(self, reader: Reader, zone: str) -> _Today:
        self._reader, self._zone = reader, zone
        return self

    def _is(self, what: str, other: date) -> bool:
        key = ("day", f"{self._zone} {what} {other.isoformat()}", "")
        return self._reader.works.sure(self._reader._note(key)) == str(True)

    def __lt__(self, other: date) -> bool:
        return not self._is("reached", other)

    def __ge__(self, other: date) -> bool:
        return self._is("reached", other)

    def __gt__(self, other: date) -> bool:
        return self._is("passed", other)

    def __le__(self, other: date) -> bool:
        return not self._is("passed", other)

    def __rsub__(self, other: date) -> timedelta:
        self._reader._note(("day", f"{self._zone} today", ""))
        return date.__sub__(other, date(self.year, self.month, self.day))

    __hash__ = date.__hash__
