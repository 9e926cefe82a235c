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
    from lessonpress.footage import Found, Suggestion
    from lessonpress.intake import OpenedClip

_FEW = 4  # marks that are named one by one


@click.command("suggest")
@click.argument("clip")
@click.argument("marks", nargs=-1, metavar="[MARK…]")
@click.option(
    "--at", "instants", multiple=True, metavar="INSTANT", help="A picture; else those of the events."
)
@click.option("--all", "every", is_flag=True, help="Every picture of the clip.")
@click.option("--events", is_flag=True, help="Propose the clip's events, and no marks.")
@click.option("--site", type=click.Path(path_type=Path), help="The site's folder, if not the nearest upward.")
def command(
    clip: str, marks: tuple[str, ...], instants: tuple[str, ...], every: bool, events: bool, site: Path | None
) -> None:
    """Propose each MARK (or all the body's) on pictures of CLIP, into suggested.csv.

    What is proposed is a question: no number rests on it until you accept it at the desk. With --events the
    events that your site names are proposed, each with a ± of pictures; the card is not changed.
    """
    root = folder_of_site(site)
    if events and (marks or instants or every):
        raise UsageError("--events proposes events alone; leave out marks, --at and --all")
    if events:
        _events(root, clip)
    else:
        _marks(root, clip, marks, instants, every)


def _marks(root: Path, clip: str, marks: tuple[str, ...], instants: tuple[str, ...], every: bool) -> None:
    from lessonpress.cli.libraries import heavy_libraries
    from lessonpress.cli.progress import shown

    with heavy_libraries():
        from lessonpress.footage import HOW_TO_GET_IT, SUGGESTED, can_suggest, without_swaps
        from lessonpress.intake import (
            frames_to_suggest,
            instant_frame,
            keep_suggestions,
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
    opened = _opened(root, clip)
    frames = [instant_frame(opened, instant) for instant in instants] or frames_to_suggest(opened)
    frames = list(range(len(opened.index))) if every else sorted(set(frames))
    asked = marks or SUGGESTED
    made: list[Suggestion] = []
    with shown() as progress:
        progress.begin("Suggesting marks", len(frames))
        for found in suggested_in(opened, frames, asked):
            made.append(found)
            progress.step()
    made = without_swaps(made)
    if not any(one.rows for one in made):
        raise UsageError("nothing is suggested: " + "; ".join(dict.fromkeys(map(_refused, made))))
    for line in _told(made):
        click.echo(line)
    click.echo(f"kept in {keep_suggestions(root, opened, asked, made)}; look at them at the desk")


def _opened(root: Path, clip: str) -> OpenedClip:
    from lessonpress.cli.problems import print_problems
    from lessonpress.intake import open_clip

    opened, problems = open_clip(root, clip)
    print_problems(problems, root)
    if opened is None or problems.errors:
        raise SiteProblemsError
    return opened


def _events(root: Path, clip: str) -> None:
    from lessonpress.cli.libraries import heavy_libraries

    with heavy_libraries():
        from lessonpress.footage import FootageError
        from lessonpress.intake import events_proposed
    opened = _opened(root, clip)
    try:
        found = events_proposed(root, opened)
    except FootageError as error:
        raise UsageError(f"{error.reason}; {error.way_out}") from None
    for line in _proposed(found, opened):
        click.echo(line)


def _proposed(found: Found, opened: OpenedClip) -> Iterator[str]:
    """A line for each event, and one for the card. Raises UsageError where there is none."""
    if not found.moments:
        raise UsageError(f"no event is proposed: {found.why or 'the card names all that are found'}")
    for name, at in found.moments.items():
        yield f"{name}: frame {at.frame} ± {at.within}"
    if found.why:
        yield found.why
    frames = {name: at.frame for name, at in found.moments.items()} | opened.events
    events = ", ".join(f"{name}: {frame}" for name, frame in sorted(frames.items(), key=lambda one: one[1]))
    yield f"look at them; on the card they are   events: {{{events}}}"


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
