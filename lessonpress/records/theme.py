"""Where the packaged themes lie: beside the package in a checkout, inside it when installed from a wheel."""

from __future__ import annotations

from pathlib import Path

PLATE_BOOK = "plate-book"
_PACKAGE = Path(__file__).resolve().parent.parent


def theme_folder(name: str = PLATE_BOOK) -> Path:
    """The folder of the packaged theme `name`. Raises FileNotFoundError where there is none of that name.

    The name is held against those there are and never joined to a path, so that it leads nowhere else.
    """
    for themes in _folders():
        if name in _names_in(themes):
            return themes / name
    raise FileNotFoundError(f"no theme called {name!r}; there are: {', '.join(theme_names())}")


def theme_names() -> tuple[str, ...]:
    """The names of the themes that came with the program, sorted."""
    return tuple(sorted({name for themes in _folders() for name in _names_in(themes)}))


def _folders() -> tuple[Path, ...]:
    return _PACKAGE / "themes", _PACKAGE.parent / "themes"


def _names_in(themes: Path) -> set[str]:
    return {path.parent.name for path in themes.glob("*/theme.yaml")}
