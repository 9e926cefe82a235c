"""`diagram LESSON PLATE`: one plate as a picture for a talk, a poster or a post."""

from __future__ import annotations

from pathlib import Path

import click

from lessonpress.cli.exit_codes import SiteProblemsError
from lessonpress.press import folder_of_site


@click.command("diagram")
@click.argument("lesson")
@click.argument("plate")
@click.option("--width", type=click.IntRange(300, 8000), default=1200, show_default=True, help="Px of a PNG.")
@click.option("--format", "suffix", type=click.Choice(["png", "svg"]), default="png", show_default=True)
@click.option("--picture", type=click.IntRange(1), help="One of them, from 1; else all.")
@click.option("--without", type=click.Choice(["letters"]), help="Lines alone, without letters and numbers.")
@click.option("--square", is_flag=True, help="On a square ground.")
@click.option("--out", type=click.Path(path_type=Path, dir_okay=False), help="The file to write.")
@click.option("--site", type=click.Path(path_type=Path), help="The site's folder, if not the nearest upward.")
def command(
    lesson: str,
    plate: str,
    width: int,
    suffix: str,
    picture: int | None,
    without: str | None,
    square: bool,
    out: Path | None,
    site: Path | None,
) -> None:
    """Draw PLATE of LESSON, named by its id, once more: wider, square, without letters.

    What every page links, a diagram of each picture as SVG and PNG, is made by `press`. This is for the odd
    one out. It goes to SITE/build/diagrams unless --out is given. Credit, title and description are within.
    """
    root = folder_of_site(site)
    from lessonpress.cli.libraries import heavy_libraries
    from lessonpress.cli.problems import print_problems
    from lessonpress.cli.progress import shown

    with heavy_libraries():
        from lessonpress.press import PlateOptions, draw_plate
    options = PlateOptions(width, suffix, picture, letters=without is None, square=square)
    with shown(lines=False) as progress:
        drawn = draw_plate(root, lesson, plate, options, progress, out)
    print_problems(drawn.problems, root)
    if drawn.path is None:
        raise SiteProblemsError
    click.echo(str(drawn.path))
