"""What a validator raises when a value cannot be what it should."""

from __future__ import annotations

import re
from collections.abc import Iterable


class InvalidValueError(ValueError):
    """What is wrong, what would be right, and near names; the reader adds the location."""

    def __init__(self, wrong: str, right: str = "", near: Iterable[str] = ()) -> None:
        super().__init__(wrong)
        self.wrong, self.right, self.near = wrong, right, tuple(near)


_COMMA = re.compile(r"(?<![\w,.])([0-9]*),([0-9]+)(?![\w,])")
CURLY = "“”„‟‘’‚«»"


def slip_in(text: str) -> InvalidValueError | None:
    """What is wrong with a value that a keyboard or a word processor made: a decimal comma, curly quotes."""
    if text[:1] in CURLY and text:
        bare = text.strip(CURLY)
        return InvalidValueError(
            f"`{text}` is in curly quotes, which are letters here",
            f"use straight quotes, or none: `{bare}`",
        )
    if _COMMA.search(text):
        meant = _COMMA.sub(r"\1.\2", text)
        return InvalidValueError(f"`{text}` has a comma", f"write a decimal point: `{meant}`")
    return None
