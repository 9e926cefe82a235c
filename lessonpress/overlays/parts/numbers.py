"""A measure's number in words: on a tag, and in a sentence."""

from __future__ import annotations

from lessonpress.measure import Measured, Printed, Units, length_words, printed
from lessonpress.overlays.kind import Outcome
from lessonpress.overlays.parts.context import Context
from lessonpress.records import Length

NOT_MEASURED = "not measured"


def printed_of(measured: Measured, units: Units) -> Printed:
    return printed(measured.value, measured.uncertainty, measured.dimension, units)


def on_tag(measured: Outcome, units: Units) -> tuple[str, str]:
    """Value with unit and ± for a tag, "4.0 in" and "±0.6"; a refused one says so; "" for no measure."""
    if measured is None:
        return "", ""
    if not isinstance(measured, Measured):
        return NOT_MEASURED, ""
    number = printed_of(measured, units)
    return number.sized, f"±{number.pm}"


def amount(measured: Measured, units: Units) -> str:
    """Size, unit and ± without the way: "4.0 in ± 0.6"."""
    return printed_of(measured, units).amount


def amount_and_way(measured: Measured, units: Units) -> str:
    """ "4.0 in ± 0.6 away from the target"."""
    return f"{amount(measured, units)} {measured.way}".rstrip()


def written_length(length: Length, context: Context) -> str:
    """A length that nothing measured: as written, or in a reader's other units where it is not in those."""
    own = context.site_units in (None, context.units) or str(length).endswith(context.units)
    return str(length) if own else length_words(length.metres, context.units)
