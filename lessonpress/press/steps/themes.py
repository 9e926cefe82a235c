"""Steps of the theme: its folder, words, styles and scripts; and a page context that notes templates."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from functools import cached_property
from pathlib import Path
from typing import Any

from lessonpress.figures import BoundLesson, BoundSite
from lessonpress.footage import is_still
from lessonpress.pages import FOLDER, OwnTheme, PageContext, PictureBook, Still, Theme, theme_of
from lessonpress.press.steps.inputs import PACKAGED
from lessonpress.press.steps.reader import Reader
from lessonpress.press.steps.seen import SeenSite, Values
from lessonpress.records import theme_folder, theme_names

RENDERING = ("jinja2", "markdown-it-py", "mdit-py-plugins")


def theme(reader: Reader, _: str) -> str | None:
    """Where the theme's files are, for `Inputs.path_to`; None once what is wrong with it is reported."""
    name = reader.value("site.yaml", "", "theme")
    own = reader.option("own_themes")
    if name in theme_names():
        return f"{PACKAGED}{name}"
    folder = f"{FOLDER}/{name}"
    themes = reader.lists(FOLDER)
    if own:
        for path in sorted(themes.glob("*")):  # those that a misspelt name is held against
            reader.there(f"{FOLDER}/{path.name}/theme.yaml")
        _look_through(reader, folder)
    usable = theme_of(SeenSite(reader), reader.problems, own)
    return None if usable is None else folder


def _look_through(reader: Reader, folder: str) -> None:
    """Every file of an own theme is looked at."""
    folder_path = reader.lists(folder)
    if folder_path.is_symlink() or not folder_path.is_dir():
        return
    for path in sorted(folder_path.iterdir()):
        inner = f"{folder}/{path.name}"
        if path.is_dir() and not path.is_symlink():
            _look_through(reader, inner)
        else:
            reader.uses(inner)


def words(reader: Reader, _: str) -> Mapping[str, Any] | None:
    """The theme's words in the site's language."""
    at = reader.value("theme")
    theme = _plain(reader, at)
    reader.lists(f"{at}/words")
    file = theme.words_file(reader.value("site.yaml", "", "language"))
    if file is None:
        return None
    reader.uses(f"{at}/words/{file.name}")
    return theme.words(reader.value("site.yaml", "", "language"))


def styled(reader: Reader, _: str) -> str:
    """The path of the style sheet; it and the fonts are put out."""
    at = reader.value("theme")
    theme = _plain(reader, at)
    for folder in ("styles", "fonts"):
        for path in sorted(reader.lists(f"{at}/{folder}").glob("*.*")):
            reader.uses(f"{at}/{folder}/{path.name}")
    reader.uses(f"{at}/theme.yaml")
    for href, content in theme.files.items():
        reader.put(href, content)
    return theme.style_path


def scripted(reader: Reader, _: str) -> Mapping[str, tuple[str, ...]]:
    """The paths of each script and of all that it imports; they are put out."""
    at = reader.value("theme")
    for path in sorted(reader.lists(f"{at}/scripts").glob("*.js")):
        reader.uses(f"{at}/scripts/{path.name}")
    made = _plain(reader, at).scripts
    for script in made.values():
        reader.put(script.path, script.content)
    return {name: (script.path, *script.needs) for name, script in made.items()}


def _plain(reader: Reader, at: str) -> Theme:
    return Theme(reader.works.inputs.path_to(at))


def themed(reader: Reader) -> Theme:
    """The theme to render with. Each template is noted for the product that it is used for.

    That is the one being made then: while a page is rendered, what it asks for may be made from other ones.
    """
    at, works = reader.value("theme"), reader.works
    if at not in works.shared.themes:
        packaged = at.startswith(PACKAGED)
        folder = theme_folder(at[1:]) if packaged else Path(reader.root, at)
        works.shared.themes[at] = Theme(folder) if packaged else OwnTheme(folder)
    made: Theme = works.shared.themes[at]
    made.environment.used = lambda name: [one.uses(f"{at}/templates/{name}") for one in works.making[-1:]]
    return made


class _Stills(Mapping[str, Still]):
    """The author's own pictures that the site shows, by their paths; only what is asked for is noted."""

    def __init__(self, reader: Reader) -> None:
        self._reader = reader

    def __getitem__(self, path: str) -> Still:
        there = is_still(path) and self._reader.value("pages by source", "", path) is not None
        still: Still | None = self._reader.value("still", path, "still") if there else None
        if still is None:
            raise KeyError(path)
        return still

    def __iter__(self) -> Iterator[str]:
        return (path for path in self._reader.value("attached") if is_still(path))

    def __len__(self) -> int:
        return sum(1 for _ in self)


class SeenContext(PageContext):
    """The context of one page: what it asks of other lessons and pages is noted."""

    def __init__(
        self,
        reader: Reader,
        lessons: tuple[BoundLesson, ...] = (),
        book: PictureBook | None = None,
        glossary: tuple[str, str] = ("glossary", ""),
    ) -> None:
        for library in RENDERING:
            reader.library(library)
        bound = BoundSite(SeenSite(reader, glossary), lessons, {})
        fields = (bound, book or PictureBook({}), themed(reader), Values(reader, "words"))
        super().__init__(*fields)
        object.__setattr__(self, "_reader", reader)

    _reader: Reader

    @property
    def style_path(self) -> str:
        return str(self._reader.value("style"))

    @property
    def icon_path(self) -> str:
        return str(self._reader.value("icon"))

    @property
    def searchable(self) -> bool:
        return bool(self._reader.value("searchable"))

    @cached_property
    def scripts(self) -> Mapping[str, tuple[str, ...]]:
        return Values(self._reader, "scripts")

    @cached_property
    def topic_slugs(self) -> Mapping[str, str]:  # type: ignore[override]
        return Values(self._reader, "slugs")

    @cached_property
    def sources(self) -> Mapping[str, str]:  # type: ignore[override]
        return Values(self._reader, "pages by source")

    @cached_property
    def stills(self) -> Mapping[str, Still]:
        return _Stills(self._reader)
