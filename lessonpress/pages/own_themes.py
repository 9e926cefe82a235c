"""The theme that site.yaml names: a packaged one, or one of the site's own `themes/` where that is allowed.

Templates are code: even in a sandbox they decide what a page carries, scripts among it, and can keep a
machine busy for ever. So a folder of the site is used only when its author said so on the command line, and
then only files that lie in it themselves: a link could lead to any file of the machine.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from pathlib import Path
from typing import Any

import yaml
from jinja2 import TemplateError, TemplateSyntaxError

from lessonpress.manuscript import NAME, Site
from lessonpress.pages.scripts import ScriptError
from lessonpress.pages.theme import Theme
from lessonpress.records import Location, Problems, UsageError, nearest, theme_folder, theme_names

FOLDER = "themes"
OPTION = "--own-themes"
_LARGEST = 8_000_000  # bytes of one file of a theme


def theme_of(site: Site, problems: Problems, own_themes: bool = False) -> Theme | None:
    """The site's theme; None once what is wrong with its name or its files is reported."""
    name = site.theme
    if name in theme_names():
        return Theme(theme_folder(name))
    folder = site.root / FOLDER / name
    if not folder.is_dir():
        _unknown(site, own_themes, problems)
        return None
    if not own_themes:
        problems.error(
            site.location_of("theme"),
            f"`{name}` is a theme of the site's own, and own themes are used only when asked for",
            f"press with `{OPTION}` if the site is one you trust: templates are like code",
        )
        return None
    reported = Problems()
    _check_files(site.root, folder, reported)
    theme = None if reported.errors else _checked(OwnTheme(folder), site, reported)
    problems.extend(reported.collected)
    return theme


def _unknown(site: Site, own_themes: bool, problems: Problems) -> None:
    known = set(theme_names())
    if own_themes and not (site.root / FOLDER).is_symlink():
        known |= {path.parent.name for path in (site.root / FOLDER).glob("*/theme.yaml")}
    there = ", ".join(sorted(known))
    problems.error(
        site.location_of("theme"),
        f"there is no theme `{site.theme}`",
        f"there are: {there}; one of the site's own is a folder {FOLDER}/NAME and needs `{OPTION}`",
        nearest=nearest(site.theme, known),
    )


class OwnTheme(Theme):
    """A theme of the site's own: what its templates do wrong is reported with its location."""

    def render(self, template: str, **values: object) -> str:
        """Raises UsageError where the template fails."""
        try:
            return super().render(template, **values)
        except UsageError:
            raise  # of a part of the page, whose own location is the nearer one
        except Exception as error:  # a template can raise whatever the values it is given can
            raise UsageError(
                f"{self._location(error, template)}: the template fails: {_said(error)}"
            ) from error

    def _location(self, error: BaseException, template: str) -> str:
        """The innermost line of the theme's templates that the error came through."""
        start = f"{FOLDER}/{self.folder.name}/templates"
        if isinstance(error, TemplateSyntaxError):
            return f"{start}/{error.name or template}:{error.lineno}"
        location, trace = f"{start}/{template}", error.__traceback__
        while trace is not None:
            file = Path(trace.tb_frame.f_code.co_filename)
            if file.is_relative_to(self.folder):
                location = f"{FOLDER}/{self.folder.name}/{file.relative_to(self.folder)}:{trace.tb_lineno}"
            trace = trace.tb_next
        return location


def _said(error: BaseException) -> str:
    return " ".join(str(error).split())[:300] or type(error).__name__


def _check_files(root: Path, folder: Path, problems: Problems) -> None:
    """Every file is a plain one that lies in the theme itself."""
    for path in (folder.parent, folder, *sorted(folder.rglob("*"))):
        location = Location(path.relative_to(root).as_posix())
        if path.is_symlink():
            problems.error(
                location, "this is a link, which may lead out of the site", "put the file itself there"
            )
        elif not path.is_dir() and not path.is_file():
            problems.error(location, "this is not a plain file", "take it out of the theme")
        elif path.is_file() and path.stat().st_size > _LARGEST:
            problems.error(location, f"the file is larger than {_LARGEST // 1_000_000} MB", "make it smaller")


def _checked(theme: Theme, site: Site, problems: Problems) -> Theme | None:
    """The theme once its list of styles, its scripts, its words and its templates were found to be whole."""
    start = f"{FOLDER}/{theme.folder.name}"
    _check_styles(theme, start, problems)
    _check_scripts(theme, start, problems)
    _check_words(theme, site.language, start, problems)
    _check_templates(theme, start, problems)
    return None if problems.errors else theme


def _check_styles(theme: Theme, start: str, problems: Problems) -> None:
    location = Location(f"{start}/theme.yaml")
    listed = _yaml(theme.folder / "theme.yaml", location, problems)
    if listed is None:
        return
    styles = listed.get("styles") if isinstance(listed, Mapping) else None
    if not isinstance(styles, list) or not all(isinstance(name, str) for name in styles):
        problems.error(location, "the theme lists no styles", "write `styles: [NAME, …]`, files of styles/")
        return
    for name in styles:
        file = theme.folder / "styles" / f"{name}.css"
        if not NAME.fullmatch(name):
            problems.error(location, f"`{name}` is not a style's name", "small letters, digits and hyphens")
        elif not file.is_file():
            problems.error(
                location, f"there is no styles/{name}.css", "write the file, or take it from the list"
            )
        else:
            _text(file, Location(f"{start}/styles/{name}.css"), problems)
    if not problems.errors:
        for name in sorted(theme.fonts_named - {font.name for font in theme.folder.glob("fonts/*.woff2")}):
            problems.error(location, f"a style asks for fonts/{name}, which is not there", "put it there")


def _check_scripts(theme: Theme, start: str, problems: Problems) -> None:
    """Each can be read, and all that they import is there."""
    files = sorted((theme.folder / "scripts").glob("*.js"))
    read = [_text(file, Location(f"{start}/scripts/{file.name}"), problems) for file in files]
    if None in read:
        return
    try:
        theme.scripts  # noqa: B018 made here, so that it can fail before any page is
    except ScriptError as error:
        right = "put it there, or take over scripts/ of the packaged theme"
        problems.error(Location(f"{start}/scripts"), str(error), right)


def _check_words(theme: Theme, language: str, start: str, problems: Problems) -> None:
    """Every word that the packaged theme has, in the language that the pages will be in."""
    file = theme.words_file(language)
    if file is None:
        problems.error(
            Location(f"{start}/words"), "the theme has no words/en.yaml", "copy the packaged theme's"
        )
        return
    location = Location(f"{start}/words/{file.name}")
    words = _yaml(file, location, problems)
    if words is not None:
        missing = list(_missing(Theme.named().words(language), words))
        if missing:
            shown = ", ".join(f"`{name}`" for name in missing[:5])
            more = f" and {len(missing) - 5} more" if len(missing) > 5 else ""
            problems.error(location, f"words are missing: {shown}{more}", "copy them from the packaged theme")


def _missing(due: Any, given: Any, at: str = "") -> Iterator[str]:
    if isinstance(due, Mapping):
        for key, value in due.items():
            name = f"{at}.{key}" if at else str(key)
            if isinstance(given, Mapping) and key in given:
                yield from _missing(value, given[key], name)
            else:
                yield name
    elif type(due) is not type(given):
        yield at


def _check_templates(theme: Theme, start: str, problems: Problems) -> None:
    """Every template that the pages ask for is there, and all of them can be read."""
    due = _templates(Theme.named().folder)
    there = _templates(theme.folder)
    for name in sorted(due - there):
        problems.error(
            Location(f"{start}/templates/{name}"), "this template is not there", "copy the packaged one"
        )
    for name in sorted(there):
        location = Location(f"{start}/templates/{name}")
        try:
            theme.environment.get_template(name)
        except TemplateSyntaxError as error:
            problems.error(Location(f"{start}/templates/{error.name or name}", error.lineno), _said(error))
        except (TemplateError, UnicodeDecodeError) as error:
            problems.error(location, f"the template cannot be read: {_said(error)}")


def _templates(folder: Path) -> set[str]:
    templates = folder / "templates"
    return {path.relative_to(templates).as_posix() for path in templates.rglob("*.html")}


def _yaml(file: Path, location: Location, problems: Problems) -> Any:
    text = _text(file, location, problems)
    if text is None:
        return None
    try:
        return yaml.safe_load(text) or {}
    except (yaml.YAMLError, ValueError, RecursionError) as error:
        mark = getattr(error, "problem_mark", None)
        at = Location(location.path, mark.line + 1, mark.column + 1) if mark else location
        problems.error(at, f"this is not YAML: {_said(error)}")
        return None


def _text(file: Path, location: Location, problems: Problems) -> str | None:
    try:
        return file.read_text(encoding="utf-8")
    except OSError as error:
        problems.error(location, f"the file cannot be read: {(error.strerror or 'no reason given').lower()}")
    except UnicodeDecodeError:
        problems.error(location, "the file is not UTF-8", "save it as UTF-8")
    return None
