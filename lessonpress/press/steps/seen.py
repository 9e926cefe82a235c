"""The site as a step sees it: every field that is read is noted as an input."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping
from dataclasses import replace
from pathlib import Path
from typing import Any, cast

from lessonpress.manuscript import Clip, Lesson, Page, Site, SiteFile, is_lost
from lessonpress.press.steps.reader import Reader
from lessonpress.records import Location


class Parts(Collection[str]):
    """A product that is a set of names: asked for one of them, only that one is noted."""

    def __init__(self, reader: Reader, step: str, of: str = "") -> None:
        self._reader, self._step, self._of = reader, step, of

    def __contains__(self, name: object) -> bool:
        return bool(self._reader.value(self._step, self._of, str(name) or "\0"))

    def __iter__(self) -> Iterator[str]:
        return iter(sorted(self._reader.value(self._step, self._of)))

    def __len__(self) -> int:
        return len(self._reader.value(self._step, self._of))


class Values(Mapping[str, Any]):
    """A product that is a mapping: asked for the value of one key, only that one is noted."""

    def __init__(self, reader: Reader, step: str, of: str = "") -> None:
        self._reader, self._step, self._of = reader, step, of

    def __getitem__(self, key: str) -> Any:
        value = self._reader.value(self._step, self._of, key or "\0")
        if value is None:
            raise KeyError(key)
        return value

    def __iter__(self) -> Iterator[str]:
        return iter(self._reader.value(self._step, self._of))

    def __len__(self) -> int:
        return len(self._reader.value(self._step, self._of))


class _Clips(Mapping[str, Clip]):
    """The site's clips, by name."""

    def __init__(self, reader: Reader) -> None:
        self._reader = reader

    def __contains__(self, name: object) -> bool:
        return name in Parts(self._reader, "named", "clips")

    def __getitem__(self, name: str) -> Clip:
        if name not in self:
            raise KeyError(name)
        return clip_of(self._reader, name)

    def __iter__(self) -> Iterator[str]:
        return iter(self._reader.value("names", "clips"))

    def __len__(self) -> int:
        return len(self._reader.value("names", "clips"))


def clip_of(reader: Reader, name: str) -> Clip:
    """A clip; its folder is left out of the product, so that the site can move."""
    clip: Clip = reader.value("clip", name)
    return replace(clip, folder=reader.root / "clips" / name)


class _SeenFile:
    """site.yaml, each field of which that is read is noted."""

    def __init__(self, reader: Reader) -> None:
        self._reader = reader

    def __getattr__(self, field: str) -> Any:
        return self._reader.value("site.yaml", "", field)

    def lost(self, *path: str) -> bool:
        return is_lost(path, self.lost_paths)

    def location_of(self, *loc: str | int) -> Location:
        location: Location = self._reader.value("site.yaml").location_of(*loc)
        return location


class SeenSite(Site):
    """A site whose parts are products; each that is read is noted. glossary: the product that is its."""

    def __init__(self, reader: Reader, glossary: tuple[str, str] = ("glossary", "")) -> None:
        object.__setattr__(self, "_reader", reader)
        object.__setattr__(self, "_glossary", glossary)

    _reader: Reader
    _glossary: tuple[str, str]

    @property
    def root(self) -> Path:
        return self._reader.root

    @property
    def file(self) -> SiteFile:
        return cast(SiteFile, _SeenFile(self._reader))

    @property
    def glossary(self) -> Mapping[str, str]:  # type: ignore[override]
        meanings: Mapping[str, str] = self._reader.value(*self._glossary)
        return meanings

    @property
    def clips(self) -> Mapping[str, Clip]:  # type: ignore[override]
        return _Clips(self._reader)

    @property
    def lessons(self) -> tuple[Lesson, ...]:
        ordered = sorted(self._reader.value("heads").values(), key=lambda one: (one.date, one.name))
        return tuple(ordered)

    @property
    def drafts(self) -> bool:
        return self._reader.option("drafts")

    @property
    def pages(self) -> Mapping[str, Page]:  # type: ignore[override]
        by_name: Mapping[str, Page] = self._reader.value("page heads")
        return by_name

    @property
    def files(self) -> tuple[str, ...]:
        paths: tuple[str, ...] = self._reader.value("attached")
        return paths

    @property
    def root_files(self) -> tuple[str, ...]:
        paths: tuple[str, ...] = self._reader.value("root files")
        return paths
