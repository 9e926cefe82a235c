"""`sheet CLIP [--around INSTANT]`: pictures of a clip, numbered: some of all, or all beside an instant."""

from __future__ import annotations

from pathlib import Path

import click

from lessonpress.press import folder_of_site


@click.command("sheet")
@click.argument("clip")
@click.option("--around", "instant", metavar="INSTANT", help="A frame, an event or a time.")
@click.option("--site", type=click.Path(path_type=Path), help="The site's folder, if not the nearest upward.")
def command(clip: str, instant: str | None, site: Path | None) -> None:
    """Put pictures of CLIP on a sheet, numbered, to find the frame of an event.

    Every picture around an instant; without one, some from the first to the last, as `ingest` did. What the
    card obscures is blurred where its marks are placed.
    """
    root = folder_of_site(site)
    from lessonpress.cli.libraries import heavy_libraries

    with heavy_libraries():
        from lessonpress.intake import sheet_of
    made = sheet_of(root, clip, instant)
    click.echo(f"{made.path}: pictures {made.frames[0]} to {made.frames[-1]} of {clip}")
    if made.open:
        click.echo(
            f"on {len(made.open)} of them what the card obscures can be seen, since it is not placed there; "
            "keep the sheet to yourself",
            err=True,
        )
