"""Which folder is the site, when the author names it and when not."""

from __future__ import annotations

from pathlib import Path

from lessonpress.records import UsageError

SITE_FILE = "site.yaml"


def folder_of_site(given: Path | None) -> Path:
    """The folder given, or else the nearest one upward with a site.yaml, as the author would write it.

    Raises UsageError where there is none.
    """
    if given is not None:
        if not (given / SITE_FILE).is_file():
            raise UsageError(
                f"{given} holds no {SITE_FILE}; give a site's folder, or lay one out with `start`"
            )
        return given
    here = Path.cwd()
    for folder in (here, *here.parents):
        if (folder / SITE_FILE).is_file():
            return Path(*[".."] * (len(here.parts) - len(folder.parts))) if folder != here else Path()
    raise UsageError(
        f"no {SITE_FILE} here or in any folder above; give a site's folder, or lay one out with `start`"
    )
