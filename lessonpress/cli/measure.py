"""`measure LESSON [--csv | --json]`: the ledger of a lesson."""

from __future__ import annotations

import sys
from pathlib import Path
from typing import TYPE_CHECKING

import click

from lessonpress.cli.lesson import bound_lesson
from lessonpress.press import folder_of_site
from lessonpress.records import UsageError

if TYPE_CHECKING:
    from lessonpress.figures import BoundLesson
    from lessonpress.measure import Units
    from lessonpress.pages import ClipTimes
    from lessonpress.records import Measure

_PIPED_WIDTH = 240  # cells; a table that is not read on a terminal is not broken to fit one


@click.command("measure")
@click.argument("lesson")
@click.option("--site", type=click.Path(path_type=Path), help="The site's folder, if not the nearest upward.")
@click.option("--csv", "as_csv", is_flag=True, help="As CSV, values unrounded.")
@click.option(
    "--json", "as_json", is_flag=True, help="As JSON, values unrounded, with what would narrow each."
)
def command(lesson: str, site: Path | None, as_csv: bool, as_json: bool) -> None:
    """Print the ledger of LESSON, named by its file's stem or its path."""
    if as_csv and as_json:
        raise UsageError("--csv and --json are two ways to print one ledger; give one of them")
    bound, units = bound_lesson(folder_of_site(site), lesson)
    from lessonpress.outlets import ledger_csv, ledger_json

    measures = bound.measures.values()
    if as_json:
        click.echo(ledger_json(bound.lesson.name, measures, bound.titles, for_author=True), nl=False)
    elif as_csv:
        click.echo(ledger_csv(measures), nl=False)
    else:
        _print_table(bound, units)


def _print_table(bound: BoundLesson, units: Units) -> None:
    from rich.console import Console
    from rich.table import Table
    from rich.text import Text

    from lessonpress.pages import times_of

    console = Console(width=None if sys.stdout.isatty() else _PIPED_WIDTH)
    table = Table("", "id", "measure", box=None, pad_edge=False, title_justify="left")
    table.add_column("value", justify="right")
    table.add_column("±", justify="right")
    for head in ("unit", "way", "plane", "frames"):
        table.add_column(head)
    for measure in bound.measures.values():
        table.add_row(*(Text(cell) for cell in _cells(measure, units)))
    console.print(table)
    for clip in times_of(bound):
        console.print(Text(_times(clip)), soft_wrap=True)
    for facts in bound.clips:
        if facts.lens:
            console.print(Text(f"{facts.clip}, lens: {facts.lens}"), soft_wrap=True)


def _times(clip: ClipTimes) -> str:
    """The clip's events in seconds of real time, its parts, and whether its camera was still."""
    said = [
        f"{one.name} {one.seconds} s" + (f" ± {one.pm}" if one.pm else "")
        for one in (*clip.events, *clip.parts)
    ]
    repeated = f"; {clip.facts.repeated} pictures repeat the one before" if clip.facts.repeated else ""
    return f"\n{clip.facts.clip}: {', '.join(said)}; the camera {clip.facts.camera}{repeated}"


def _cells(measure: Measure, units: Units) -> tuple[str, ...]:
    from lessonpress.figures import lettered

    number = lettered(measure, units)
    frames = " ".join(str(frame) for frame in measure.frames)
    if number is None:
        said: tuple[str, ...] = ("–", "–", "", f"not measured: {measure.refused}")
    else:
        said = (number.number, number.pm, number.unit, measure.way)
    return (measure.letter, measure.id, measure.words, *said, measure.plane, frames)
