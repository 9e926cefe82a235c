"""`explain LESSON ID`: one number as a worked example."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from pathlib import Path
from typing import TYPE_CHECKING

import click

from lessonpress.cli.lesson import bound_lesson
from lessonpress.press import folder_of_site
from lessonpress.records import UsageError, nearest

if TYPE_CHECKING:
    from lessonpress.measure import Units
    from lessonpress.records import Budget, Measure, Share

_BAR = 20  # cells of a bar that is the whole variance
_VALUES = 38  # cells from the end of an input's words to its part
_FEW = 3  # frames that are listed one by one
_LEAST_REST = 0.0005  # of the variance: less prints as nothing


@click.command("explain")
@click.argument("lesson")
@click.argument("measure_id", metavar="ID")
@click.option("--site", type=click.Path(path_type=Path), help="The site's folder, if not the nearest upward.")
def command(lesson: str, measure_id: str, site: Path | None) -> None:
    """Show how the number ID of LESSON came about: formula, inputs, what each brings to the ±."""
    bound, units = bound_lesson(folder_of_site(site), lesson)
    if measure_id not in bound.measures:
        close = nearest(measure_id, bound.measures) or tuple(bound.measures)
        listed = f"; there are: {', '.join(close)}" if close else ""
        raise UsageError(f"{bound.lesson.name} has no measure called {measure_id}{listed}")
    click.echo("\n".join(worked(bound.measures[measure_id], bound.measures, units)))


def worked(measure: Measure, measures: Mapping[str, Measure], units: Units) -> Iterator[str]:
    """The lines of the worked example. measures: the lesson's."""
    from lessonpress.figures import answer_words, lettered, narrower_words

    number = lettered(measure, units)
    yield f"{measure.id}: {measure.words}"
    yield ""
    if number is None:
        yield f"  not measured: {measure.refused}"
        yield f"  way out: {measure.way_out}"
    else:
        yield f"  {number.full}{_coverage(measure)}"
    if measure.expect:
        yield f"  {answer_words(measure)}" if measure.answer else f"  expected: {measure.expect}"
    yield ""
    yield f"  plane   {measure.plane}"
    yield f"  frames  {_frames(measure, measures)}"
    yield f"  marks   {', '.join(measure.marks)} (the points as marked)"
    if measure.budget is not None:
        yield from _budget(measure.budget)
    yield from _listed("assumed", measure.assumed)
    yield from _listed("narrower with", narrower_words(measure, units))


def _listed(head: str, lines: Sequence[str]) -> Iterator[str]:
    for count, line in enumerate(lines):
        yield f"  {head if count == 0 else ' ' * len(head)} {line}"


def _frames(measure: Measure, measures: Mapping[str, Measure]) -> str:
    """ "65 to 89 of dune-face-on; 52 to 66 of shingle-face-on" """
    from lessonpress.figures import pictures_of

    said = []
    for clip, frames in pictures_of(measure, measures):
        few = len(frames) <= _FEW
        said.append(f"{', '.join(map(str, frames)) if few else f'{frames[0]} to {frames[-1]}'} of {clip}")
    return "; ".join(said)


def _coverage(measure: Measure) -> str:
    if measure.k is not None:
        return f"   (± at k = {measure.k:g}: about 95 %)"
    return f"   (95 % between {measure.low:.4g} and {measure.high:.4g} {measure.unit or ''})".replace(
        " )", ")"
    )


def _budget(budget: Budget) -> Iterator[str]:
    yield ""
    yield f"  {budget.formula}"
    yield f"  {budget.worked}"
    yield ""
    yield f"  What the ± is made of, {budget.method}:"
    width = max((len(share.words) for share in budget.shares), default=0)
    for share in budget.shares:
        yield f"  {_share(share, width)}"
    rest = 1 - sum(share.share for share in budget.shares)
    if budget.shares and rest >= _LEAST_REST:
        words = "the rest, each under 0.05 %"
        yield f"  {words:<{width + _VALUES}} {rest:>6.1%}  {'█' * round(rest * _BAR) or '·'}"
    yield ""
    if budget.sources:
        parts = ", ".join(f"{source} {part:.0%}".replace("%", " %") for source, part in budget.sources)
        yield f"  of it by depths: {parts}"
    for words in budget.depths:
        yield f"  {words}"
    yield ""


def _share(share: Share, width: int) -> str:
    """An input, its value with u, and its part of the variance as per cent and bar."""
    kind = " rectangular" if share.distribution == "rectangular" else ""
    bar = "█" * round(share.share * _BAR) or "·"
    return (
        f"{share.words:<{width}}  {share.value:>9.4g} {share.unit:<4} u {share.u:<7.2g}{kind:<12}"
        f" {share.share:>6.1%}  {bar}"
    )
