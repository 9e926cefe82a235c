"""One slip in one field of the sound site: every field × a table of values, and what is reported of each.

`replaced` leaves all else as it was, so whatever is reported comes of that one slip.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date
from pathlib import Path
from typing import Any

import yaml

from lessonpress.footage.camera.study import Study
from lessonpress.manuscript import read_site
from lessonpress.manuscript.text.memory import Memory
from lessonpress.records.problem import Problem
from tests.corpus import sound
from tests.corpus.texts.fields import MARKDOWN, YAML, Raw, fields_of, with_key, with_value
from tests.figures.bound import bind_site
from tests.figures.films import index_of

TODAY = date(2026, 11, 25)
PLACED = ("navel", "c7", "head", "trail-hip", "lead-hip", "trail-ankle", "lead-ankle")
REVERSED, MISSPELT = "reversed", "its key misspelt"

# One wrong value each: `[10,5, 20]` where no list belongs is two slips, and so is `[a, b]` where there are no
# such marks or `{a: 1}` where other keys are required.
VALUES: dict[str, Any] = {
    **{str(raw): raw for raw in map(Raw, ("~", "[]", "{}", "true", "12", "-1", "[12]", ".nan", "1e308"))},
    "299 nines": Raw("9" * 299),
    "empty text": "",
    **{text: text for text in ("nowhere else", "91,4 cm", "“navel”", "٣٠ in", "½ in", "5..1 deg", "0 s")},
    **{text: text for text in ("frame 9999", "99999999", "2026-02-30", "9999-12-31", "../../etc")},
    "3,000 letters": "x" * 3000,
}


@dataclass(frozen=True)
class Slip:
    """A field of a file and what is written there. text: the whole file with the slip."""

    file: str
    field: tuple[str | int, ...]
    value: str
    text: str

    def __str__(self) -> str:
        return f"{self.file}: {'.'.join(map(str, self.field))}: {self.value}"


def slips(root: Path) -> list[Slip]:
    """Every one, in the order of the files."""
    return [
        Slip(name, field, value, text[:start] + replaced + text[end:])
        for name in (*YAML, *MARKDOWN)
        for text in [(root / name).read_text(encoding="utf-8")]
        for start, end, field in fields_of(name, text)
        for value, replaced in _replaced(yaml.safe_load(text[start:end]), field)
    ]


def _replaced(data: Any, field: tuple[str | int, ...]) -> Iterator[tuple[str, str]]:
    for name, value in VALUES.items():
        yield name, with_value(data, field, value)
    was = data
    for part in field:
        was = was[part]
    if isinstance(was, list) and len(was) > 1:
        yield REVERSED, with_value(data, field, was[::-1])
    key = field[-1]
    if isinstance(key, str) and len(key) > 3:
        yield MISSPELT, with_key(data, field, key[0] + key[2] + key[1] + key[3:])


class Reader:
    """A site read and bound again and again, its films never decoded."""

    def __init__(self, root: Path) -> None:
        self.root, self._memory = root, Memory()
        self._study = Study(index_of(60, sound.SIZE))

    def told(self) -> list[Problem]:
        """Everything that is reported of the site as it is."""
        site, problems = read_site(self.root, today=TODAY, memory=self._memory)
        if site is not None:
            _, found = bind_site(site, {sound.CLIP: self._study})
            problems.extend(found.collected)
        return problems.listed()

    def told_of(self, slip: Slip) -> list[Problem]:
        """What is reported with one slip, which is taken out again."""
        path = self.root / slip.file
        was = path.read_bytes()
        path.write_text(slip.text, encoding="utf-8")
        try:
            return self.told()
        finally:
            path.write_bytes(was)
