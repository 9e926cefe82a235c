"""Letters that look alike, turn the line, join, or have no place in a text, in every field."""

from __future__ import annotations

from pathlib import Path
from random import Random

from tests.corpus.texts.fields import Raw, replace_a_field

TRICKS = (
    "\u202eevil\u202c",
    "\u2066a\u2069",
    "na\u200bvel",
    "nаvel",
    "ｎａｖｅｌ",
    "\ufeff",
    "\u2028",
    "\u2029",
    "e" + "\u0301" * 3000,
    "🏌️‍♀️" * 50,
    "\U000e0001",
    "ﷺ" * 200,
    "İ",
    "ß",
    "\u00ad",
    "−3",
    "1\u202f000",
    "\N{LEFT DOUBLE QUOTATION MARK}a\N{RIGHT DOUBLE QUOTATION MARK}",
)
ESCAPED = tuple(
    map(
        Raw,
        (
            '"\\ud800"',
            '"\\0"',
            '"\\x1b[2J"',
            '"\\u202e"',
            '"a\\tb\\nc"',
            '"\\U0010ffff"',
            '"\\ufffe"',
            '"\\x85"',
        ),
    )
)


def spoil(root: Path, random: Random) -> str:
    return replace_a_field(root, random, random.choice((*TRICKS, *ESCAPED)))
