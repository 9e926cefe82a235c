"""Which day it is somewhere: a site's days begin at midnight of its own time zone."""

from __future__ import annotations

from datetime import date, datetime


def day_in(zone: str, moment: datetime) -> date:
    """The day in a time zone of the IANA database at a moment, which must know its own zone.

    Raises ZoneInfoNotFoundError or ValueError where there is no such zone.
    """
    from zoneinfo import ZoneInfo  # few commands ask for the day

    return moment.astimezone(ZoneInfo(zone)).date()
