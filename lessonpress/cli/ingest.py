"""`ingest VIDEO [--site DIR] [--name NAME]`: a clip of a video."""

from __future__ import annotations

from pathlib import Path
from shlex import quote

import click

from lessonpress.press import folder_of_site


@click.command("ingest")
@click.argument("video", type=click.Path(path_type=Path))
@click.option("--site", type=click.Path(path_type=Path), help="The site's folder, if not the nearest upward.")
@click.option("--name", help="The clip's name; made of the file's name unless given.")
def command(video: Path, site: Path | None, name: str | None) -> None:
    """Make a clip of VIDEO: its card begun with what the file says, its frames numbered on a sheet."""
    root = folder_of_site(site)
    from lessonpress.cli.libraries import heavy_libraries

    with heavy_libraries():
        from lessonpress.intake import ingest_video
    made = ingest_video(video, root, name)
    click.echo(
        f"{made.folder}: {len(made.index)} pictures. Answer the questions in {made.folder / 'clip.yaml'}"
    )
    click.echo(
        f"{made.sheet}: some of them, numbered. All around one of these, to find the frame of an event: "
        f"lessonpress sheet {made.name} --around FRAME --site {quote(str(root))}"
    )
    click.echo(
        "Everybody can be seen on it: keep it to yourself. Once the card says whom to obscure, "
        f"`lessonpress sheet {made.name}` draws it again.",
        err=True,
    )
