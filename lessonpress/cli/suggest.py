"""`suggest CLIP [MARK…] [--at INSTANT…]`: marks of the body proposed by the program."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from typing import TYPE_CHECKING

import click

from lessonpress.cli.exit_codes import SiteProblemsError
from lessonpress.press import folder_of_site
from lessonpress.records import UsageError, nearest

if TYPE_CHECKING:
    from lessonpress.footage import Suggestion

_FEW = 4  # marks that are named one by one


@click.command("suggest")
@click.argument("clip")
@click.argument("marks", nargs=-1, metavar="[MARK…]")
@click.option(
    "--at", "instants", multiple=True, metavar="INSTANT", help="A picture; else those of the events."
)
@click.option("--all", "every", is_flag=True, help="Every picture of the clip.")
@click.option("--site", type=click.Path(path_type=Path), help="The site's folder, if not the nearest upward.")
def command(
    clip: str, marks: tuple[str, ...], instants: tuple[str, ...], every: bool, site: Path | None
) -> None:
    """Propose each MARK (or all the body's) on pictures of CLIP, into suggested.csv.

    What is proposed is a question: no number rests on it until you accept it at the desk.
    """
    root = folder_of_site(site)
    from lessonpress.cli.libraries import heavy_libraries
    from lessonpress.cli.problems import print_problems
    from lessonpress.cli.progress import shown

    with heavy_libraries():
        from lessonpress.footage import HOW_TO_GET_IT, SUGGESTED, can_suggest
        from lessonpress.intake import (
            frames_to_suggest,
            instant_frame,
            keep_suggestions,
            open_clip,
            suggested_in,
            suggestions_allowed,
        )
    if not can_suggest():
        raise UsageError(HOW_TO_GET_IT)
    for mark in marks:
        if mark not in SUGGESTED:
            close = nearest(mark, SUGGESTED)
            hint = f"close to it: {', '.join(close)}" if close else f"there are: {', '.join(SUGGESTED)}"
            raise UsageError(f"`{mark}` is not a mark that can be suggested; {hint}")
    if not suggestions_allowed(root):
        raise UsageError("site.yaml says `suggested: no`, so no marks are suggested on this site")
    opened, problems = open_clip(root, clip)
    print_problems(problems, root)
    if opened is None or problems.errors:
        raise SiteProblemsError
    frames = [instant_frame(opened, instant) for instant in instants] or frames_to_suggest(opened)
    frames = list(range(len(opened.index))) if every else sorted(set(frames))
    asked = marks or SUGGESTED
    made: list[Suggestion] = []
    with shown() as progress:
        progress.begin("Suggesting marks", len(frames))
        for found in suggested_in(opened, frames, asked):
            made.append(found)
            progress.step()
    if not any(one.rows for one in made):
        raise UsageError("nothing is suggested: " + "; ".join(dict.fromkeys(map(_refused, made))))
    for line in _told(made):
        click.echo(line)
    click.echo(f"kept in {keep_suggestions(root, opened, asked, made)}; look at them at the desk")


def _told(made: list[Suggestion]) -> Iterator[str]:
    """A line for each picture, and one for each reason for which marks are not suggested in it."""
    for one in made:
        if not one.rows:
            yield _refused(one)
            continue
        us = [row.u or 0.0 for row in one.rows]
        yield f"frame {one.frame}: {len(one.rows)} suggested, u {min(us):.1f} to {max(us):.1f} px"
        for why in dict.fromkeys(one.missing.values()):
            marks = [mark for mark in one.missing if one.missing[mark] == why]
            named = ", ".join(marks) if len(marks) <= _FEW else f"{len(marks)} others"
            yield f"  not {named}: {why}"


def _refused(one: Suggestion) -> str:
    why = (
        one.why
        or "; ".join(dict.fromkeys(one.missing.values()))
        or "all that was asked for is placed by hand"
    )
    return f"frame {one.frame}: {why}"
