"""The last check before publishing: no lesson goes out with a figure or a number missing.

Mistakes in figures are reported where they are found. This is for what none of those checks foresees:
without it, readers would see a figure's source in place of the figure, and braces in place of a number.
"""

from __future__ import annotations

from lessonpress.figures.plan.fields import FIGURES
from lessonpress.figures.plates import BoundLesson
from lessonpress.records import Problems


def check_complete(bound: BoundLesson, problems: Problems) -> None:
    """Report every figure of the lesson that has no plate, and every number of its text that is not there."""
    for block in bound.lesson.blocks:
        if block.kind in FIGURES and bound.plate_at(block.line) is None:
            problems.error(
                block.location, "this figure could not be made", "look at its clip's video and card"
            )
    plates = {plate.id for plate in bound.plates}
    numbers = bound.named.keys() | bound.measures.keys()
    for reference in bound.lesson.references:
        there = reference.figure in plates if reference.figure is not None else reference.id in numbers
        if not there:
            right = "look at the figure that gives it"
            problems.error(reference.location, f"there is nothing to print for `{reference.text}`", right)
