"""The time zone of a site, by its name in the IANA database: `Europe/Berlin`."""

from __future__ import annotations

from zoneinfo import available_timezones

from lessonpress.manuscript.fields.invalid_value import InvalidValueError
from lessonpress.records import nearest


def time_zone(text: str) -> str:
    """The name as written. Raises InvalidValueError for what is no name of a zone.

    Names are looked at before any file is: a path is none.
    """
    known = available_timezones()
    if text in known:
        return text
    close = nearest(text, known)
    hint = f"did you mean {' or '.join(f'`{name}`' for name in close[:2])}?" if close else ""
    raise InvalidValueError(f"`{text}` is not a time zone", hint or "write it as `Europe/Berlin` or `UTC`")
