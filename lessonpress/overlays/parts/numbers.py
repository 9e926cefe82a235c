"""A measure's number in words: on a tag, and in a sentence."""

from __future__ import annotations

from lessonpress.measure import Measured, Printed, Units, printed
from lessonpress.overlays.kind import Outcome

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
