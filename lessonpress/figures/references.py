"""Whether every number and figure that a lesson's text prints is there to be printed."""

from __future__ import annotations

from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass

from lessonpress.figures.claims import ANY
from lessonpress.figures.timing import TEMPO
from lessonpress.manuscript.lesson import Lesson
from lessonpress.manuscript.prose import Reference
from lessonpress.records.measure import Measure
from lessonpress.records.problem import Problems, lines_of, nearest

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
    """Unknown ids with the nearest ones, refused measures with their reason, forms that do not fit.

    An unknown id is reported once, where it is printed first.
    """
    named = printable.named
    unknown: dict[str, list[Reference]] = {}
    for reference in lesson.references:
        if reference.figure is not None:
            if ANY not in printable.claimed and reference.figure not in printable.figures | printable.claimed:
                unknown.setdefault(reference.text, []).append(reference)
            continue
        if reference.id == TEMPO and TEMPO not in named:
            if lesson.clip is not None or lesson.front.lost("clip"):
                continue  # why the clip gives none is reported where the clip is named, or in its files
            right = "write `clip: NAME` in the front matter"
            problems.error(reference.place, "`tempo` is that of the lesson's clip, and it has none", right)
            continue
        measure = named.get(reference.id)
        if measure is None and _is_claimed(reference, printable):
            continue
        if measure is None:
            unknown.setdefault(reference.id, []).append(reference)
        elif measure.refused is not None and not printable.faulty.isdisjoint(measure.clips):
            continue
        elif measure.refused is not None:
            problems.error(
                reference.place,
                f"`{reference.text}` is not measured: {measure.refused}",
                measure.way_out or "",
            )
        elif reference.form != "answer" or reference.id not in printable.unexpecting:
            _check_form(reference, measure, problems)
    for references in unknown.values():
        if references[0].figure is not None:
            _tell_unknown_figure(references, printable.figures | printable.claimed, problems)
        else:
            _tell_unknown(references, named, problems)


def _is_claimed(reference: Reference, printable: Printable) -> bool:
    """Whether a figure without mistakes would give the number; which of several is for the text to say."""
    if ANY in printable.claimed and not _several(reference, printable.named):
        return True
    if reference.id == reference.base or reference.id not in printable.claimed:
        return reference.base in printable.claimed and not _several(reference, printable.named)
    return True


def _tell_unknown_figure(
    references: Sequence[Reference], figures: Collection[str], problems: Problems
) -> None:
    right = (
        f"figures with an id here are {', '.join(sorted(figures))}"
        if figures
        else "this lesson has no figures"
    )
    name = references[0].figure or ""
    near = nearest(name, figures)
    wrong = f"there is no figure `{name}`{_elsewhere(references)}"
    problems.error(references[0].place, wrong, "" if near else right, nearest=near)


def _several(reference: Reference, named: Mapping[str, Measure]) -> tuple[str, ...]:
    """The measures of several pictures that share the reference's id before the dot."""
    return tuple(sorted(name for name in named if name.partition(".")[0] == reference.base))


def _elsewhere(references: Sequence[Reference]) -> str:
    """The other lines that print what is reported of the first."""
    first, *others = references
    lines = lines_of(one.place for one in others if one.place.line != first.place.line)
    return f", which {lines} print{'' if lines.startswith('lines') else 's'} as well" if lines else ""


def _tell_unknown(references: Sequence[Reference], named: Mapping[str, Measure], problems: Problems) -> None:
    reference, elsewhere = references[0], _elsewhere(references)
    of_panels = _several(reference, named)
    if of_panels:
        wrong = f"`{reference.id}`{elsewhere}{',' * bool(elsewhere)} is measured on several pictures"
        problems.error(reference.place, wrong, "say which one is meant", nearest=of_panels)
        return
    near = nearest(reference.id, named)
    right = "" if near else "name a measure with `as` in a figure of this lesson"
    problems.error(reference.place, f"there is no measure `{reference.id}`{elsewhere}", right, nearest=near)


def _check_form(reference: Reference, measure: Measure, problems: Problems) -> None:
    form = reference.form
    if form == "answer" and measure.expect is None:
        problems.error(reference.place, f"`{reference.id}` expects nothing", "give its overlay an `expect`")
    if form == "clock" and measure.dimension != "clock":
        problems.error(reference.place, f"`{reference.id}` is not a clock direction", "leave `:clock` out")
    if form == "way" and not measure.way:
        problems.error(reference.place, f"`{reference.id}` has no way", "leave `:way` out")
    if form in LENGTH_FORMS and measure.dimension != "length":
        problems.error(reference.place, f"`{reference.id}` is not a length", f"leave `:{form}` out")
