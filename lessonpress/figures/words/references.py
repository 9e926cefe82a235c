"""Checks that every number and figure that a lesson's text prints exists."""

from __future__ import annotations

from collections.abc import Collection, Mapping
from dataclasses import dataclass

from lessonpress.figures.bind.timing import TEMPO
from lessonpress.figures.plan.claims import ANY
from lessonpress.figures.words.ledger import refused_for
from lessonpress.manuscript import Lesson, Reference
from lessonpress.records import Measure, Problems, nearest

LENGTH_FORMS = ("cm", "in")


@dataclass(frozen=True)
class Printable:
    """What a lesson's text may print: its figures and its measures, by every name of theirs.

    claimed: ids that its figures give away; one without a number or a plate has its own mistake reported, and
    what prints it is not a second one. faulty: clips whose files hold mistakes, reported likewise.
    unexpecting: measures whose `expect` holds a mistake, or the range it names.
    """

    figures: frozenset[str]
    named: Mapping[str, Measure]
    claimed: frozenset[str]
    faulty: frozenset[str]
    unexpecting: frozenset[str]


def check_references(lesson: Lesson, printable: Printable, problems: Problems) -> None:
    """Unknown ids with the nearest ones, refused measures with their reason, forms that do not fit."""
    named, figures = printable.named, printable.figures | printable.claimed
    for reference in lesson.references:
        if reference.figure is not None:
            if ANY not in printable.claimed and reference.figure not in figures:
                _tell_unknown_figure(reference, figures, problems)
            continue
        if reference.id == TEMPO and TEMPO not in named:
            if lesson.clip is not None or lesson.front.lost("clip"):
                continue  # why the clip gives none is reported where the clip is named, or in its files
            right = "write `clip: NAME` in the front matter"
            problems.error(reference.location, "`tempo` is that of the lesson's clip, and it has none", right)
            continue
        measure = named.get(reference.id)
        if measure is None and _is_claimed(reference, printable):
            continue
        if measure is None:
            _tell_unknown(reference, named, problems)
        elif measure.refused is not None and not printable.faulty.isdisjoint(measure.clips):
            continue
        elif measure.refused is not None:
            problems.error(
                reference.location,
                f"`{reference.text}` is not measured: {measure.refused}",
                measure.way_out or "",
                cause=refused_for(measure.refused),
            )
        elif reference.form != "answer" or reference.id not in printable.unexpecting:
            _check_form(reference, measure, problems)


def _is_claimed(reference: Reference, printable: Printable) -> bool:
    """Whether a figure without mistakes would give the number; which of several is for the text to say."""
    if ANY in printable.claimed and not _several(reference, printable.named):
        return True
    if reference.id == reference.base or reference.id not in printable.claimed:
        return reference.base in printable.claimed and not _several(reference, printable.named)
    return True


def _tell_unknown_figure(reference: Reference, figures: Collection[str], problems: Problems) -> None:
    right = (
        f"figures with an id here are {', '.join(sorted(figures))}"
        if figures
        else "this lesson has no figures"
    )
    near = nearest(reference.figure or "", figures)
    wrong = f"there is no figure `{reference.figure}`"
    problems.error(
        reference.location, wrong, "" if near else right, nearest=near, cause=f"no figure {reference.figure}"
    )


def _several(reference: Reference, named: Mapping[str, Measure]) -> tuple[str, ...]:
    """The measures of several pictures that share the reference's id before the dot."""
    return tuple(sorted(name for name in named if name.partition(".")[0] == reference.base))


def _tell_unknown(reference: Reference, named: Mapping[str, Measure], problems: Problems) -> None:
    cause = f"no measure {reference.id}"
    of_panels = _several(reference, named)
    if of_panels:
        wrong = f"`{reference.id}` is measured on several pictures"
        problems.error(reference.location, wrong, "say which one is meant", nearest=of_panels, cause=cause)
        return
    near = nearest(reference.id, named)
    right = "" if near else "name a measure with `as` in a figure of this lesson"
    wrong = f"there is no measure `{reference.id}`"
    problems.error(reference.location, wrong, right, nearest=near, cause=cause)


def _check_form(reference: Reference, measure: Measure, problems: Problems) -> None:
    form = reference.form
    if form == "answer" and measure.expect is None:
        problems.error(
            reference.location, f"`{reference.id}` expects nothing", "give its overlay an `expect`"
        )
    if form == "clock" and measure.dimension != "clock":
        problems.error(reference.location, f"`{reference.id}` is not a clock direction", "leave `:clock` out")
    if form == "way" and not measure.way:
        problems.error(reference.location, f"`{reference.id}` has no way", "leave `:way` out")
    if form in LENGTH_FORMS and measure.dimension != "length":
        problems.error(reference.location, f"`{reference.id}` is not a length", f"leave `:{form}` out")
