"""`press [SITE] [--out DIR] [--own-themes]`: the site into a folder of static files."""

from __future__ import annotations

import time
from datetime import datetime
from io import StringIO
from pathlib import Path

import click

from lessonpress.cli.exit_codes import SiteProblemsError
from lessonpress.press import folder_of_site


@click.command("press")
@click.argument("site", required=False, type=click.Path(path_type=Path))
@click.option("--out", type=click.Path(path_type=Path), help="Where to; SITE/build/site unless given.")
@click.option("--discard", is_flag=True, help="Delete what was put into the pressed folder by hand.")
@click.option(
    "--own-themes",
    is_flag=True,
    help="Use a theme from the site's own themes folder. Templates are like code: only for a site you trust.",
)
@click.option(
    "--drafts", is_flag=True, help="Drafts too, marked; into SITE/build/drafts unless --out is given."
)
@click.option(
    "--as-of",
    metavar="DATE",
    type=click.DateTime(["%Y-%m-%d"]),
    help="The site as it will be on DATE, 2026-12-24; into SITE/build/as-of unless --out is given.",
)
@click.option("--compressed", is_flag=True, help="A .gz and a .br beside each file that is smaller so.")
@click.option("--workers", type=click.IntRange(1), help="Processes at work; one a core unless given.")
@click.option("--why", is_flag=True, help="Say what was made again, and because of what.")
@click.pass_obj
def command(
    words: list[str] | None,
    site: Path | None,
    out: Path | None,
    discard: bool,
    own_themes: bool,
    drafts: bool,
    as_of: datetime | None,
    compressed: bool,
    workers: int | None,
    why: bool,
) -> None:
    """Press SITE, or the nearest folder upward with a site.yaml, into a folder of static files.

    The folder must be absent, empty or pressed before. It is replaced in whole, and only when everything
    went well. Only what depends on a change is made again. What else is in the folder is named, and stays
    unless --discard is given. A lesson whose date is to come is held back until that day. With --drafts
    it is for your own eyes: drafts and lessons held back are pressed and checked as others are, and no
    list, feed or map of the site has them.
    """
    root = folder_of_site(site)
    from lessonpress.cli.glance import leave_note
    from lessonpress.cli.libraries import heavy_libraries
    from lessonpress.cli.problems import print_problems
    from lessonpress.cli.progress import shown
    from lessonpress.press import press

    began = time.time_ns()
    folder = (
        out if out is not None else root / "build" / ("drafts" if drafts else "as-of" if as_of else "site")
    )
    with heavy_libraries(), shown() as progress:
        pressed = press(
            root,
            folder,
            progress,
            discard=discard,
            own_themes=own_themes,
            drafts=drafts,
            as_of=as_of.date() if as_of else None,
            compressed=compressed,
            workers=workers,
        )
    print_problems(pressed.problems, root)
    if pressed.summary is None:
        raise SiteProblemsError
    click.echo(f"{folder}: {pressed.summary}")
    if why:
        for redone in pressed.redone:
            click.echo(str(redone))
    said = "".join(f"draft: {folder / path}\n" for path in pressed.notes.drafts)
    said += "".join(f"held back until {day}: {path}\n" for path, day in pressed.notes.held)
    if pressed.notes.left_out:
        said += f"left out without a `url` in site.yaml: {', '.join(pressed.notes.left_out)}\n"
    click.echo(said, nl=False)
    if words and not pressed.summary.anew:  # the list of changes says so too
        errors = StringIO()
        print_problems(pressed.problems, root, errors)
        again = f"{folder}: {pressed.summary}\n{said}"
        leave_note(words, str(root), str(folder), began, pressed.inputs, (errors.getvalue(), again))
