"""What site.yaml says of letters: who they are from, and how to leave the list."""

from __future__ import annotations

import re

from lessonpress.manuscript.fields.invalid_value import InvalidValueError

# of RFC 5322, 3.4.1 the plain part: no quoted names before the @, no comments
_ADDRESS = re.compile(r"[A-Za-z0-9.!#$%&'*+/=?^_`{|}~-]+@[A-Za-z0-9](?:[A-Za-z0-9.-]*[A-Za-z0-9])?")
_NAMED = re.compile(r"(?P<name>[^<>\n]*?) *<(?P<address>[^<>]*)>")
_LINK = re.compile(r"(?:https?://|mailto:)\S+")


def mail_address(text: str) -> str:
    """`Name <address>` or an address alone, as written. Raises InvalidValueError for what is neither."""
    named = _NAMED.fullmatch(text)
    address = named["address"] if named else text
    if _ADDRESS.fullmatch(address) is None or ".." in address:
        raise InvalidValueError(
            f"`{address}` is not a mail address", "write it as `Saltmarsh Studio <letters@example.org>`"
        )
    return text


def way_out_of_list(text: str) -> str:
    """A link, or the sign that a newsletter service puts its own link in place of, as written.

    Raises InvalidValueError for an address that is neither of the web nor of mail.
    """
    if ":" in text.split("/")[0] and _LINK.fullmatch(text) is None:
        raise InvalidValueError(
            f"`{text}` is not a link", "write `https://…`, `mailto:…`, or your service's own sign for it"
        )
    return text
