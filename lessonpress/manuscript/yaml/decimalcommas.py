"""Decimal commas in a list in brackets, `[640,2, 401]`, where each comma would part two values.

A comma with no space after it, between the digits of two plain values, is taken for a decimal comma where the
list shows that it is none of those that part values: another of its commas has a space after it, or the value
after the comma has a unit and the one before it has none, as in `[91,4 cm]`.
Common practice, no published source.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from itertools import pairwise
from typing import Protocol

_WHOLE = re.compile(r"[-+−]?[0-9]+")
_REST = re.compile(r"[0-9]+(?P<unit>\s*[^\s0-9].*)?")


class Written(Protocol):
    """A value of a list: its text, its first and past its last offset, and "" where it has no quotes."""

    @property
    def written(self) -> str: ...
    @property
    def span(self) -> tuple[int, int]: ...
    @property
    def style(self) -> str: ...


def decimal_commas(items: Sequence[Written | None]) -> list[int]:
    """The places in the list of the values that a decimal comma cut off from the value before them.

    items: None for a list or mapping. A value that was cut off has nothing cut off from itself.
    """
    tight = [at for at, (one, other) in enumerate(pairwise(items), 1) if _touch(one, other)]
    mixed = len(tight) < len(items) - 1
    cut_off: list[int] = []
    for at in tight:
        if at - 1 not in cut_off and (mixed or _has_unit(items[at])):
            cut_off.append(at)
    return cut_off


def _touch(one: Written | None, other: Written | None) -> bool:
    """Whether two values could be a number cut in two: digits, a comma with no space, digits."""
    if one is None or other is None or one.style or other.style or one.span[1] + 1 != other.span[0]:
        return False
    rest = _REST.fullmatch(other.written)
    if rest is None or not _WHOLE.fullmatch(one.written):
        return False
    return not (rest["unit"] or "").startswith((".", ":"))


def _has_unit(item: Written | None) -> bool:
    rest = _REST.fullmatch(item.written) if item else None
    return bool(rest and rest["unit"])


def comma_said(written: str, rest: str, *, in_a_list: bool) -> tuple[str, str]:
    """What is wrong with `written,rest`, and what would be right; in a list the comma may have been meant."""
    right = f"write a decimal point: `{written}.{rest}`"
    if in_a_list:
        right += "; a comma between two values has a space after it"
    return f"`{written},{rest}` has a comma", right
