"""What a page says in every reading: in inches and in centimetres, of pictures as filmed and turned about.

All of it is in the page, written by the press, each number rounded by its own ±. The style sheet shows what
is for the reader (`styles/mine.css`); what an attribute says is put in its place by `scripts/mine.js`.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass

from markupsafe import Markup

from lessonpress.figures import Lettered, lettered
from lessonpress.measure import Units
from lessonpress.records import Measure, Otherwise, Reading, other_readings, shown_in


@dataclass(frozen=True)
class Shown:
    """A measured number as a page has it. readings: the number, by the classes that it is shown for."""

    readings: tuple[tuple[str, Lettered], ...]

    @property
    def number(self) -> Markup:
        return self._part(lambda one: one.number)

    @property
    def unit(self) -> Markup:
        return self._part(lambda one: one.unit)

    @property
    def pm(self) -> Markup:
        return self._part(lambda one: one.pm)

    @property
    def value(self) -> Markup:
        """Number and unit."""
        return self._part(lambda one: one.value)

    @property
    def way(self) -> str:
        return self.readings[0][1].way

    def _part(self, of: Callable[[Lettered], str]) -> Markup:
        return spans((classes, Markup.escape(of(number))) for classes, number in self.readings)


def shown(measure: Measure, site: Units, form: str = "") -> Shown | None:
    """The measure in every reading; None where it was refused. form: of prose, which may ask for units."""

    def said(reading: Reading) -> Lettered | None:
        return lettered(measure, reading.units_of(form), turned=reading.turned)

    own = said(Reading(site))
    if own is None:
        return None
    others = ((reading, said(reading)) for reading in other_readings(site))
    return Shown(shown_in(own, [(reading, one) for reading, one in others if one is not None and one != own]))


def spans(variants: Iterable[tuple[str, Markup]]) -> Markup:
    """Each text in an element of its classes; a text that is the same in all of them by itself."""
    found = tuple(variants)
    if len({text for _, text in found}) == 1:
        return found[0][1]
    return Markup().join(Markup('<span class="{}">{}</span>').format(*one) for one in found)


def in_readings(own: str, otherwise: Otherwise, put: Callable[[str], str] = str) -> Markup:
    """A text in every reading. put: what is done with each before, as putting it into the page's words."""
    return spans((classes, Markup.escape(put(text))) for classes, text in shown_in(own, otherwise))


def attribute(own: str, name: str, otherwise: Otherwise) -> Markup:
    """An attribute, and beside it what it says in other readings: `data-alt-cm`, `data-alt-cm-turned`.

    Where units and side both are others and only one of them matters, the one for that is enough.
    """
    said = {_called(reading): text for reading, text in otherwise if text != own}
    written = [Markup('{}="{}"').format(name, own)]
    for called, text in said.items():
        alone = [said[part] for part in called.split("-") if part in said and part != called]
        if text not in alone[:1]:
            written.append(Markup('data-{}-{}="{}"').format(name, called, text))
    return Markup(" ").join(written)


def _called(reading: Reading) -> str:
    """ "cm", "turned", "cm-turned": in what a reading differs from the site's own."""
    return "-".join([reading.units] * reading.swapped + ["turned"] * reading.turned)
