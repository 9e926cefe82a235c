"""`desk [SITE]`: the local pages where marks are placed, figures composed and the proof is read."""

from __future__ import annotations

from pathlib import Path

import click

from lessonpress.press import folder_of_site


@click.command("desk")
@click.argument("site", required=False, type=click.Path(path_type=Path))
@click.option(
    "--port",
    type=click.IntRange(0, 65535),
    default=0,
    help="A port of this machine; a free one unless given.",
)
@click.option("--open/--no-open", "opening", default=True, help="Open the browser; this is the default.")
@click.option(
    "--own-themes",
    is_flag=True,
    help="Use a theme from the site's own themes folder. Templates are like code: only for a site you trust.",
)
def command(site: Path | None, port: int, opening: bool, own_themes: bool) -> None:
    """Open the desk of SITE, or of the nearest folder upward with a site.yaml, on this machine only."""
    root = folder_of_site(site)
    from lessonpress.cli.libraries import heavy_libraries

    with heavy_libraries():
        from lessonpress.desk import serve

    def say_address(address: str) -> None:
        click.echo(f"The desk is open at {address}")
        click.echo("Close it with Ctrl-C. Everything is kept as it is changed.", err=True)
        if opening:
            click.launch(address)

    try:
        serve(root, port, say_address, own_themes=own_themes)
    except KeyboardInterrupt:  # Ctrl-C is how a desk is closed
        click.echo("The desk is closed.", err=True)
        raise
