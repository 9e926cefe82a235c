"""Measures in prose: `{navel-back}`, `{navel-back:size}`, `{figure:top}` and their kin.

Two printings of every form: lettered HTML for the page, plain text for alt texts, feeds and all that has no
markup. A number leads to its row in the ledger, a figure's name to the figure.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from markupsafe import Markup, escape

from lessonpress.drawing import Say, as_said
from lessonpress.figures import Lettered, Plate, lettered, text_of
from lessonpress.measure import Units
from lessonpress.pages.shown import Shown, in_readings, shown, spans
from lessonpress.records import Measure, Reading, differing, other_readings

FIGURE = "figure"
WORDS = ("way", "answer")  # forms without a number
FULL = ("", "cm", "in")  # forms with the direction


@dataclass(frozen=True)
class ProseContext:
    """What prose may print: the lesson's measures and plates by id, the site's units, words for plates.

    page: the href of the lesson's page from where the prose is, "" on that page itself, None where nothing
    is to be linked. plate_word: the theme's word for a plate. counts: how often each number is printed, by
    its id, so that the ledger can lead back to each of them; None where nothing leads there. say: the
    program's own words in the language of the page.
    every: numbers in all readings, for a page whose styles show one of them; what is read elsewhere, such as
    a feed or a letter, has the site's own alone.
    """

    measures: Mapping[str, Measure]
    plates: Mapping[str, Plate]
    units: Units
    page: str | None = ""
    plate_word: str = "Plate"
    counts: dict[str, int] | None = None
    say: Say = as_said
    every: bool = False


def html(name: str, form: str, printing: ProseContext) -> Markup:
    """The HTML of `{name:form}`. An unknown name or form stays as it was written; figures report it."""
    if name == FIGURE:
        return _figure_html(form, printing)
    measure = printing.measures.get(name)
    if measure is None:
        return escape(_as_written(name, form))
    number = None if form in WORDS else shown(measure, printing.units, form)
    if number is None:
        return _words_html(measure, form, printing)
    return _lettered_html(measure, number, form, printing, _next_anchor(measure, printing))


def text(name: str, form: str, printing: ProseContext) -> str:
    """The plain text of `{name:form}`."""
    if name == FIGURE:
        plate = printing.plates.get(form)
        return f"{printing.plate_word} {plate.numeral}" if plate else _as_written(name, form)
    measure = printing.measures.get(name)
    return _as_written(name, form) if measure is None else _text(measure, form, printing)


def number_html(measure: Measure, printing: ProseContext) -> Markup:
    """The number with its ± and without its direction, as the key of a plate has it."""
    number = shown(measure, printing.units)
    return Markup() if number is None else _lettered_html(measure, number, "size", printing)


def _words_html(measure: Measure, form: str, printing: ProseContext) -> Markup:
    """A form that is words, "inside 3 to 5 in", in every reading."""
    own = text_of(measure, form, Reading(printing.units))
    readings = other_readings(printing.units) if printing.every else ()
    others = [(reading, text_of(measure, form, reading)) for reading in readings]
    return in_readings(own, differing(own, others), printing.say)


def _text(measure: Measure, form: str, printing: ProseContext) -> str:
    reading = Reading(printing.units)
    number = lettered(measure, reading.units_of(form))
    if form in FULL and number is not None and number.way:
        return f"{number.size} {printing.say(number.way)}"
    return printing.say(text_of(measure, form, reading))


def anchor_of(name: str, number: int) -> str:
    """The id of the element where a measure is printed for the `number`th time on its page."""
    return f"n-{name}-{number}"


def _next_anchor(measure: Measure, printing: ProseContext) -> str:
    """The id of the element of a number that is printed next; "" where nothing leads there."""
    if printing.counts is None:
        return ""
    printing.counts[measure.id] = printing.counts.get(measure.id, 0) + 1
    return anchor_of(measure.id, printing.counts[measure.id])


def _lettered_html(
    measure: Measure, number: Shown, form: str, printing: ProseContext, anchor: str = ""
) -> Markup:
    readings = number.readings if printing.every else (("", number.readings[0][1]),)
    inner = spans((classes, _one_reading(one, form)) for classes, one in readings)
    linked = (
        Markup('<span class="m">{}</span>').format(inner)
        if printing.page is None
        else _linked_html(measure, inner, printing, anchor)
    )
    return linked + f" {printing.say(number.way)}" if form in FULL and number.way else linked


def _linked_html(measure: Measure, inner: Markup, printing: ProseContext, anchor: str) -> Markup:
    own = Markup(' id="{}"').format(anchor) if anchor else Markup()
    href = f"{printing.page}#m-{measure.id}"
    return Markup('<a class="m"{} href="{}">{}</a>').format(own, href, inner)


def _one_reading(number: Lettered, form: str) -> Markup:
    lettering = Markup(escape(number.number))
    if form not in ("bare", "clock"):
        lettering += _unit_html(number.unit)
        if form != "value":
            lettering += Markup(" <small>± {}</small>").format(number.pm)
    return lettering


def _unit_html(unit: str) -> Markup:
    if unit in ("", "°"):
        return escape(unit)
    return Markup(' <span class="unit">{}</span>').format(unit)


def _figure_html(name: str, printing: ProseContext) -> Markup:
    plate = printing.plates.get(name)
    if plate is None:
        return escape(_as_written(FIGURE, name))
    if printing.page is None:
        return Markup('<span class="fig">{} {}</span>').format(printing.plate_word, plate.numeral)
    return Markup('<a class="fig" href="{}#plate-{}">{} {}</a>').format(
        printing.page, plate.id, printing.plate_word, plate.numeral
    )


def _as_written(name: str, form: str) -> str:
    return f"{{{name}:{form}}}" if form else f"{{{name}}}"
