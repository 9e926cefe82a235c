"""The few words of the program's own that are drawn, in the language of the page."""

from __future__ import annotations

from collections.abc import Callable

Say = Callable[[str], str]  # what the program says in English → the same in the language of the page


def as_said(english: str) -> str:
    """Of a page in English, and of what stands alone."""
    return english
