"""A theme: templates, styles and words in a folder, and the files that it puts beside the pages.

A theme's folder holds `theme.yaml` (the order of its styles), `templates/`, `styles/`, `words/LANGUAGE.yaml`,
`fonts/` and `scripts/`. Styles are joined into one file; scripts stay the modules that they are. All carry
a hash of what is in them in their names, so that a host may let browsers keep them for good.
"""

from __future__ import annotations

import hashlib
import re
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cached_property
from pathlib import Path
from typing import Any

from jinja2 import FileSystemLoader, StrictUndefined, pass_context
from jinja2.runtime import Context

from lessonpress.manuscript import plain_yaml
from lessonpress.pages.compiled import COMPILED
from lessonpress.pages.sandbox import Sandbox
from lessonpress.pages.scripts import Script, scripts_of
from lessonpress.pages.shown import attribute, in_readings
from lessonpress.pages.words import phrase
from lessonpress.records import PLATE_BOOK, theme_folder

_FONT = re.compile(r'url\(([^)"\']+)\) (format\("woff2"\))')
_COMMENT = re.compile(r"^[ \t]*/\*.*?\*/[ \t]*\n?", re.DOTALL | re.MULTILINE)  # that begins its line
_ENGLISH = "en"


@dataclass(frozen=True)
class Theme:
    folder: Path

    @classmethod
    def named(cls, name: str = PLATE_BOOK) -> Theme:
        """The theme that came with the program under `name`. Raises FileNotFoundError where there is none."""
        return cls(theme_folder(name))

    def words(self, language: str) -> Mapping[str, Any]:
        """The words of the pages in `language` ("en-GB" is answered with "en"), else in English."""
        file = self.words_file(language)
        if file is None:
            raise FileNotFoundError(f"the theme in {self.folder.name} has no words/en.yaml")
        words: Mapping[str, Any] = plain_yaml(file.read_text(encoding="utf-8"))
        return words

    def words_file(self, language: str) -> Path | None:
        """The file that `words` reads; None where there is not even English."""
        names = (language, language.split("-")[0], _ENGLISH)
        files = (self.folder / "words" / f"{name}.yaml" for name in names)
        return next((file for file in files if file.is_file()), None)

    @cached_property
    def environment(self) -> Sandbox:
        """Jinja in its sandbox, with everything escaped and every unknown name an error."""
        sandbox = Sandbox(
            loader=FileSystemLoader(self.folder / "templates"),
            autoescape=True,
            undefined=StrictUndefined,
            trim_blocks=True,
            lstrip_blocks=True,
            keep_trailing_newline=True,
            bytecode_cache=COMPILED,
        )
        sandbox.filters |= {"phrase": _phrase, "readings": in_readings, "attribute": attribute}
        return sandbox

    def render(self, template: str, **values: object) -> str:
        return self.environment.get_template(template).render(**values)

    @cached_property
    def files(self) -> Mapping[str, bytes]:
        """Path from the site's root → content of the fonts and of the style sheet, which is the last."""
        style = self.style
        fonts = dict(font for name, font in self._fonts.items() if name in self.fonts_named)
        return {**fonts, self.style_path: style.encode()}

    @cached_property
    def scripts(self) -> Mapping[str, Script]:
        """The modules of `scripts/` by name. Raises ScriptError."""
        return scripts_of(self.folder / "scripts")

    @cached_property
    def style(self) -> str:
        """The joined style sheet as it lies in `assets/`, its fonts named by hash."""
        return _FONT.sub(lambda url: f"url({self._font_beside(url[1])}) {url[2]}", self._joined)

    @cached_property
    def version(self) -> str:
        """Another one where any file of the theme is another."""
        files = sorted(path for path in self.folder.rglob("*") if path.is_file())
        return _short_hash(b"".join(hashlib.sha256(file.read_bytes()).digest() for file in files))

    @property
    def fonts_named(self) -> frozenset[str]:
        """The files of fonts/ that the styles ask for."""
        return frozenset(Path(url[1]).name for url in _FONT.finditer(self._joined))

    @cached_property
    def style_path(self) -> str:
        return f"assets/press.{_short_hash(self.style.encode())}.css"

    def _font_beside(self, name: str) -> str:
        """The path from `assets/` to the font that a style calls `../fonts/NAME`."""
        return self._fonts[Path(name).name][0].removeprefix("assets/")

    @cached_property
    def _joined(self) -> str:
        listed = plain_yaml((self.folder / "theme.yaml").read_text(encoding="utf-8"))["styles"]
        styles = (self.folder / "styles" / f"{name}.css" for name in listed)
        return "\n".join(_COMMENT.sub("", style.read_text(encoding="utf-8")) for style in styles)

    @cached_property
    def _fonts(self) -> Mapping[str, tuple[str, bytes]]:
        """File name of a font → its path in the site and its content."""
        fonts = {}
        for file in sorted((self.folder / "fonts").glob("*.woff2")):
            content = file.read_bytes()
            fonts[file.name] = (f"assets/{file.stem}.{_short_hash(content)}.woff2", content)
        return fonts


@pass_context
def _phrase(context: Context, english: str) -> str:
    """The filter of templates that puts what the program says in English into the words of the page."""
    return phrase(english, context["words"])


def _short_hash(content: bytes) -> str:
    return hashlib.sha256(content).hexdigest()[:10]
