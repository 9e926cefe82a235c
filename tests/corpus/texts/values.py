"""Wrong, empty, huge and foreign values in every field."""

from __future__ import annotations

from pathlib import Path
from random import Random

from tests.corpus.texts.fields import Raw, replace_a_field

VALUES = (
    *map(
        Raw, ("~", "", "[]", "{}", "true", "no", ".nan", ".inf", "-.inf", "0", "-0", "-1", "1e308", "1e-308")
    ),
    *map(Raw, ("9" * 299, "9" * 400, "-" + "9" * 250, "1" + "0" * 299 + ".0", "0x" + "f" * 200, "1e400")),
    *map(Raw, ("[.nan, .nan, .nan, .nan]", "[0, 0, 0, 0]", "[[[]]]", "{a: {b: {c: d}}}", "!!binary aGk=")),
    *map(Raw, ("[0, 0, .inf, .inf]", "[1e300, 1e300]", "[10, 10, 10.2, 10.2]", "[0, 0, 1e-9, 1e-9]")),
    "",
    " ",
    "0 in",
    "999999999999 m",
    "1e9 m",
    "NaN in",
    "0.000000000001 in",
    "-36 in",
    "36",
    "91,4 cm",
    "00:00:01:99",
    "00:00:01;02",
    "23:59:59:29",
    "99999999",
    "0.0 s",
    "999999999 s",
    "top - 999999999",
    "top + 5",
    "0..0 in",
    "999999999..999999999 deg",
    "12:00..12:00",
    "1/0 s",
    "1/999999 s",
    "0 ms",
    "2026-02-30",
    "0001-01-01",
    "9999-12-31",
    "x" * 100_000,
    "a-" * 5_000,
    "../../etc",
    "CON",
    "navel",
    "yes",
    "＿",
    "٣٠ in",
    "½ in",
)


def spoil(root: Path, random: Random) -> str:
    return replace_a_field(root, random, random.choice(VALUES))
