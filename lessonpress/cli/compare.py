"""`compare CLIP LESSON`: a student's clip held against a lesson, as the draft of a lesson for them."""

from __future__ import annotations

from pathlib import Path

import click

from lessonpress.cli.exit_codes import SiteProblemsError
from lessonpress.press import folder_of_site


@click.command("compare")
@click.argument("clip")
@click.argument("lesson")
@click.option("--for", "addressee", required=True, metavar="NAME", help="Whom the private lesson is for.")
@click.option("--incomplete", is_flag=True, help="Write it all the same, without plates that lack something.")
@click.option("--site", type=click.Path(path_type=Path), help="The site's folder, if not the nearest upward.")
def command(clip: str, lesson: str, addressee: str, incomplete: bool, site: Path | None) -> None:
    """Measure on CLIP what LESSON measures, and draft a private lesson in lessons/LESSON-CLIP.md.

    Each plate becomes a pair, the lesson's swing first. A sentence is written only where a difference is
    larger than its ±; a table has all of them. Events and marks that CLIP lacks are listed with what to
    place, and nothing is written then unless --incomplete is given. The lesson stays a draft until you take
    `draft` out, and no file is ever overwritten.
    """
    root = folder_of_site(site)
    from lessonpress.cli.libraries import heavy_libraries
    from lessonpress.cli.problems import print_problems
    from lessonpress.cli.progress import shown

    with heavy_libraries():
        from lessonpress.press import CompareOptions, compare
    with shown(lines=False) as progress:
        compared = compare(root, clip, lesson, CompareOptions(addressee, incomplete), progress)
    print_problems(compared.problems, root)
    if compared.path is None:
        raise SiteProblemsError
    said = f"{compared.larger} of {compared.measured} differences are larger than their ±"
    click.echo(f"{compared.path}: a draft of {compared.pairs} pairs; {said}")
