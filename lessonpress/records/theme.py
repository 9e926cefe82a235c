"""Where the themes lie: beside the package in a checkout, inside it when installed from a wheel."""

from __future__ import annotations

from pathlib import Path

PLATE_BOOK = "plate-book"
_PACKAGE = Path(__file__).resolve().parent.parent


def theme_folder(name: str = PLATE_BOOK) -> Path:
    """The folder of the theme `name`. Raises FileNotFoundError where there is none of that name."""
    for themes in (_PACKAGE / "themes", _PACKAGE.parent / "themes"):
        if (themes / name).is_dir():
            return themes / name
    raise FileNotFoundError(f"no theme called {name!r}; there are: {', '.join(theme_names())}")


def theme_names() -> tuple[str, ...]:
    """The names of the themes that came with the program, sorted."""
    folders = (_PACKAGE / "themes", _PACKAGE.parent / "themes")
    return tuple(sorted({path.name for themes in folders if themes.is_dir() for path in themes.iterdir()}))
