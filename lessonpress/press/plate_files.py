"""Draws one plate of a lesson once more, at a width or in a form that no page needs."""

from __future__ import annotations

from dataclasses import dataclass, replace
from pathlib import Path

from lessonpress.disk import write_atomically
from lessonpress.drawing import SheetLayout, on_square, sheet
from lessonpress.outlets import ChartDiagram, PanelDiagram, without_letters
from lessonpress.press.progress import Progress
from lessonpress.press.ready import made_ready, opened
from lessonpress.press.steps.inputs import PressOptions
from lessonpress.press.steps.prints import diagrams
from lessonpress.press.steps.reader import Reader
from lessonpress.press.steps.works import Works
from lessonpress.records import Problems, UsageError, nearest

FOLDER = Path("build", "diagrams")


@dataclass(frozen=True)
class PlateOptions:
    """width: px of the file. picture: the one of several, from 1; all on one sheet unless given."""

    width: int = 1200
    suffix: str = "png"
    picture: int | None = None
    letters: bool = True
    square: bool = False


@dataclass(frozen=True)
class DrawnPlate:
    """path: None where errors stopped it."""

    problems: Problems
    path: Path | None = None


def draw_plate(
    root: Path, lesson: str, plate: str, options: PlateOptions, progress: Progress, out: Path | None = None
) -> DrawnPlate:
    """The plate as a file, in `build/diagrams` unless `out` says where.

    Raises UsageError for a plate or a picture that is not there, and for a sheet or a square as SVG.
    """
    with opened(root, PressOptions(drafts=True)) as works:
        ready = made_ready(works, [lesson], progress)
        if not ready.names:
            return DrawnPlate(ready.problems)
        (name,) = ready.names
        chosen = _chosen(works, name, plate, options)
        content = _drawn(chosen, options)
        path = out or works.root / FOLDER / _file_name(name, plate, options)
        path.parent.mkdir(parents=True, exist_ok=True)
        write_atomically(path, content)
        return DrawnPlate(ready.problems, path)


def _file_name(lesson: str, plate: str, options: PlateOptions) -> str:
    """Another name for each other drawing, so that none takes another's place."""
    picture = [] if options.picture is None else [str(options.picture)]
    bare = [] if options.letters else ["bare"]
    square = ["square"] if options.square else []
    return ".".join([lesson, plate, *picture, *bare, *square, str(options.width), options.suffix])


def _chosen(
    works: Works, lesson: str, plate: str, options: PlateOptions
) -> list[PanelDiagram | ChartDiagram]:
    every = diagrams(Reader(works), lesson)
    there = list(dict.fromkeys(one.beside.plate for one in every))
    of_plate = [one for one in every if one.beside.plate == plate]
    if not of_plate:
        close = ", ".join(nearest(plate, there) or there) or "none"
        raise UsageError(f"{lesson} has no plate called {plate}; there are: {close}")
    if options.picture is None:
        return of_plate
    if not 1 <= options.picture <= len(of_plate):
        raise UsageError(f"{plate} has no picture {options.picture}; it has 1 to {len(of_plate)}")
    return [of_plate[options.picture - 1]]


def _drawn(chosen: list[PanelDiagram | ChartDiagram], options: PlateOptions) -> bytes:
    layout = SheetLayout(len(chosen), options.width)
    if options.suffix == "svg" and (len(chosen) > 1 or options.square):
        raise UsageError("several pictures on one sheet and squares are made as PNG; give --picture for SVG")
    made = [one if options.letters else without_letters(one) for one in chosen]
    sized = [replace(one, beside=replace(one.beside, size=layout.size)) for one in made]
    if options.suffix != "png":
        return sized[0].drawn(options.suffix)
    pictures = [one.pictured() for one in sized]
    whole = pictures[0] if len(pictures) == 1 else sheet(pictures, layout)
    return (on_square(whole) if options.square else whole).png()
