"""The last part of the address of a lesson for one person: long enough that it cannot be guessed.

It is kept in the lesson's file, so that a link that was sent stays good after every press.
"""

from __future__ import annotations

import re
import secrets
from typing import Annotated

from pydantic import AfterValidator

from lessonpress.manuscript.fields.fieldtypes import Text
from lessonpress.manuscript.fields.invalid_value import InvalidValueError

_LETTERS = "abcdefghijkmnpqrstuvwxyz23456789"  # 32, none that is read as another: 5 bits each
_LENGTH = 26  # 130 bits; RFC 4086, section 8.2.2, asks for 128 of what must not be guessed
_SHORTEST, _LEAST_DIFFERENT = 20, 8


def fresh_address() -> str:
    """One at random, from the system's source of secrets."""
    return "".join(secrets.choice(_LETTERS) for _ in range(_LENGTH))


def private_address(text: str) -> str:
    """The address as written. Raises InvalidValueError for one that could be guessed."""
    if not re.fullmatch(rf"[a-z0-9]{{{_SHORTEST},64}}", text) or len(set(text)) < _LEAST_DIFFERENT:
        wrong = f"`{text}` could be guessed"
        raise InvalidValueError(wrong, f"take one at random, such as `{fresh_address()}`")
    return text


PrivateAddress = Annotated[Text, AfterValidator(private_address)]
