"""Whether every number and figure that a lesson's text prints is there to be printed."""

from __future__ import annotations

from collections.abc import Collection, Mapping

from lessonpress.figures.timing import TEMPO
from lessonpress.manuscript.lesson import Lesson
from lessonpress.manuscript.prose import Reference
from lessonpress.records.measure import Measure
from lessonpress.records.problem import Problems, nearest

LENGTH_FORMS = ("cm", "in")


def check_references(
    lesson: Lesson,
    figures: Collection[str],
    named: Mapping[str, Measure],
    claimed: Collection[str],
    problems: Problems,
) -> None:
    """Unknown ids with the nearest ones, refused measures with their reason, forms that do not fit.

    claimed: ids that the lesson's figures give away; one without a number or a plate has a mistake of its own
    told, and what prints it is no second one.
    """
    for reference in lesson.references:
        if reference.figure is not None:
            _check_figure(reference, {*figures, *claimed}, problems)
            continue
        if reference.id == TEMPO and TEMPO not in named:
            right = "write `clip: NAME` in the front matter"
            problems.error(reference.place, "`tempo` is that of the lesson's clip, and it has none", right)
            continue
        measure = named.get(reference.id)
        if measure is None and reference.base in claimed and not _several(reference, named):
            continue
        if measure is None:
            _tell_unknown(reference, named, problems)
        elif measure.refused is not None:
            problems.error(
                reference.place,
                f"`{reference.text}` is not measured: {measure.refused}",
                measure.way_out or "",
            )
        else:
            _check_form(reference, measure, problems)


def _check_figure(reference: Reference, figures: Collection[str], problems: Problems) -> None:
    if reference.figure and reference.figure not in figures:
        right = (
            f"figures with an id here are {', '.join(sorted(figures))}"
            if figures
            else "this lesson has no figures"
        )
        near = nearest(reference.figure, figures)
        problems.error(
            reference.place, f"there is no figure `{reference.figure}`", "" if near else right, nearest=near
        )


def _several(reference: Reference, named: Mapping[str, Measure]) -> tuple[str, ...]:
    """The measures of several pictures that share the reference's id before the dot."""
    return tuple(sorted(name for name in named if name.partition(".")[0] == reference.base))


def _tell_unknown(reference: Reference, named: Mapping[str, Measure], problems: Problems) -> None:
    of_panels = _several(reference, named)
    if of_panels:
        wrong = f"`{reference.id}` is measured on several pictures"
        problems.error(reference.place, wrong, "say which one is meant", nearest=of_panels)
        return
    near = nearest(reference.id, named)
    right = "" if near else "name a measure with `as` in a figure of this lesson"
    problems.error(reference.place, f"there is no measure `{reference.id}`", right, nearest=near)


def _check_form(reference: Reference, measure: Measure, problems: Problems) -> None:
    form = reference.form
    if form == "answer" and measure.expect is None:
        problems.error(reference.place, f"`{reference.id}` expects nothing", "give its overlay an `expect`")
    if form == "clock" and measure.dimension != "clock":
        problems.error(reference.place, f"`{reference.id}` is no clock direction", "leave `:clock` out")
    if form == "way" and not measure.way:
        problems.error(reference.place, f"`{reference.id}` has no way", "leave `:way` out")
    if form in LENGTH_FORMS and measure.dimension != "length":
        problems.error(reference.place, f"`{reference.id}` is no length", f"leave `:{form}` out")
