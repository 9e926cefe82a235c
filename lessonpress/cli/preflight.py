"""`preflight [SITE] [--json]`: one last look before publishing."""

from __future__ import annotations

from collections import Counter
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING

import click

from lessonpress.cli.exit_codes import SiteProblemsError
from lessonpress.press import folder_of_site

if TYPE_CHECKING:
    from lessonpress.press import Looked


@click.command("preflight")
@click.argument("site", required=False, type=click.Path(path_type=Path))
@click.option("--json", "as_json", is_flag=True, help="As JSON, what has been answered included.")
@click.option("--drafts", is_flag=True, help="Drafts too.")
@click.option("--own-themes", is_flag=True, help="Use a theme from the site's own themes folder.")
def command(site: Path | None, as_json: bool, drafts: bool, own_themes: bool) -> None:
    """Look once more at SITE, or at the nearest folder upward with a site.yaml, before it is published.

    Prints what a careful editor would ask about, the most severe first: errors, what is severe (a reader
    learns something wrong, or may be hurt), warnings, notes. Nothing is pressed. A finding that is meant so
    is answered in its file, `meant: {ID: why}`, and stays answered until its text changes. The exit code is 1
    while an error or something severe is left. Findings are questions to the author, and no legal or medical
    advice.
    """
    root = folder_of_site(site)
    from lessonpress.cli.libraries import heavy_libraries
    from lessonpress.cli.progress import shown

    with heavy_libraries(), shown(lines=False) as progress:
        from lessonpress.press import preflight

        looked = preflight(root, progress, own_themes=own_themes, drafts=drafts)
    if as_json:
        _print_json(looked)
    else:
        _print(looked, root)
    if looked.severe:
        raise SiteProblemsError


def _print(looked: Looked, root: Path) -> None:
    from lessonpress.cli.problems import printed_problem
    from lessonpress.records import Problems

    counts = Counter(one.severity for one in looked.open)
    for severity in counts:
        click.echo(f"{_counted(severity, counts[severity])}:")
        alike = [replace(one.problem, severity="error") for one in looked.open if one.severity == severity]
        for problem in Problems(alike).listed():
            click.echo(printed_problem(problem, root))
        click.echo()
    said = ", ".join(_counted(severity, count) for severity, count in counts.items()) or "nothing found"
    click.echo(f"{said}; {len(looked.settled)} answered")


def _counted(severity: str, count: int) -> str:
    return f"{count} {severity}" if severity == "severe" or count == 1 else f"{count} {severity}s"


def _print_json(looked: Looked) -> None:
    import json

    click.echo(json.dumps({"findings": looked.rows()}, ensure_ascii=False, indent=2))
