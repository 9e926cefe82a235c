"""`mail LESSON…`: lessons as letters, for a mail program or a newsletter service. Nothing is sent."""

from __future__ import annotations

from pathlib import Path

import click

from lessonpress.cli.exit_codes import SiteProblemsError
from lessonpress.press import folder_of_site


@click.command("mail")
@click.argument("lessons", nargs=-1, required=True, metavar="LESSON…")
@click.option("--digest", is_flag=True, help="One letter of all of them, an excerpt of each.")
@click.option("--excerpt", is_flag=True, help="The leading plate and a link in place of the whole lesson.")
@click.option("--attach", is_flag=True, help="Pictures within the letter in place of on the web.")
@click.option("--unlisted", is_flag=True, help="Also lessons that say `listed: false`.")
@click.option("--own-themes", is_flag=True, help="As for `press`.")
@click.option("--site", type=click.Path(path_type=Path), help="The site's folder, if not the nearest upward.")
def command(
    lessons: tuple[str, ...],
    digest: bool,
    excerpt: bool,
    attach: bool,
    unlisted: bool,
    own_themes: bool,
    site: Path | None,
) -> None:
    """Write each LESSON as a letter into SITE/build/mail: letter.eml, letter.html, letter.txt, preview.html.

    letter.eml opens in a mail program, ready to address; letter.html is for the paste box of a newsletter
    service; letter.txt is the same in plain text; preview.html shows it in a browser. Nothing is sent.
    Pictures are asked for at the site's `url` when the letter is read, so press and upload the site first,
    or give --attach.
    """
    root = folder_of_site(site)
    from lessonpress.cli.libraries import heavy_libraries
    from lessonpress.cli.problems import print_problems
    from lessonpress.cli.progress import shown

    with heavy_libraries():
        from lessonpress.press import MailOptions, write_letters
    options = MailOptions(digest=digest, excerpt=excerpt, attach=attach, unlisted=unlisted)
    with shown(lines=False) as progress:
        mailed = write_letters(root, lessons, options, progress, own_themes=own_themes)
    print_problems(mailed.problems, root)
    if mailed.problems.errors or not mailed.folders:
        raise SiteProblemsError
    for folder in mailed.folders:
        click.echo(f"{folder}: letter.eml, letter.html, letter.txt, preview.html")
