"""`start DIR`: the starter site."""

from __future__ import annotations

from pathlib import Path
from shlex import quote

import click

from lessonpress.intake import start_site


@click.command("start")
@click.argument("folder", metavar="DIR", type=click.Path(path_type=Path))
def command(folder: Path) -> None:
    """Lay out a small site in DIR, which must be absent or empty, that presses at once."""
    start_site(folder)
    click.echo(f"{folder}: laid out. Press it with: lessonpress press {quote(str(folder))}")
