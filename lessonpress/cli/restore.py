"""`restore FILE`: a file of the site brought back to what it was before a save."""

from __future__ import annotations

from pathlib import Path

import click

from lessonpress.press import folder_of_site


@click.command("restore")
@click.argument("file", type=click.Path(path_type=Path), required=False)
@click.option(
    "--save", "number", type=int, metavar="NUMBER", help="Before which save; its last one unless given."
)
@click.option("--site", type=click.Path(path_type=Path), help="The site's folder, if not the nearest upward.")
def command(file: Path | None, number: int | None, site: Path | None) -> None:
    """Bring FILE back to what it was before its last save at the desk; without a FILE, list the saves.

    The last hundred saves of a site are kept in its cache, on this machine alone. What the file holds now is
    kept as well, so that restoring it once more undoes it.
    """
    root = folder_of_site(site)
    from lessonpress.press import restore, saves_of

    if file is None:
        saves = saves_of(root)
        for save in saves:
            was = f"{len(save.content)} bytes before it"
            click.echo(f"{save.number}  {save.at:%Y-%m-%d %H:%M:%S} UTC  {save.path}, {was}")
        click.echo(f"{len(saves)} saves" if saves else "no save is kept yet")
        return
    back = restore(root, file, number)
    click.echo(f"{back.path} is again what it was before save {back.number}, {back.at:%Y-%m-%d %H:%M:%S} UTC")
