"""Colours of the site's own theme that are too alike to be read.

WCAG 2.2, success criterion 1.4.3: text needs a contrast of 4.5 : 1 with what it is on. The names are those of
the packaged theme, which an own one is a copy of.
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from lessonpress.preflight.finding import Finding, Severity
from lessonpress.preflight.rule import LooksAt
from lessonpress.preflight.subjects import PressedSubject
from lessonpress.records import Location

NAME = "contrast"
SEVERITY: Severity = "warning"
LOOKS_AT: LooksAt = "pressed"

LEAST = 4.5
_PAIRS = (
    *((ink, ground) for ink in ("ink", "ink-2", "stamp", "fault") for ground in ("paper", "sheet", "band")),
    ("on-stamp", "stamp"),
    ("tag-ink", "tag"),
)
_BLOCK = re.compile(r":root\s*\{([^}]*)\}")
_COLOUR = re.compile(r"--([\w-]+):\s*(#[0-9A-Fa-f]{6}|#[0-9A-Fa-f]{3})(?![0-9A-Fa-f])")


def find(subject: PressedSubject) -> Iterator[Finding]:
    for path, style in subject.styles.items():
        colours: dict[str, tuple[str, int]] = {}
        for block in _BLOCK.finditer(style):
            here = {name[1]: (name[2], block.start(1) + name.start()) for name in _COLOUR.finditer(block[1])}
            colours = {**colours, **here}
            for ink, ground in _PAIRS:
                if (ink in here or ground in here) and ink in colours and ground in colours:
                    yield from _read(path, style, ink, ground, colours)


def _read(
    path: str, style: str, ink: str, ground: str, colours: dict[str, tuple[str, int]]
) -> Iterator[Finding]:
    (one, at), (other, _) = colours[ink], colours[ground]
    ratio = contrast(one, other)
    if ratio < LEAST:
        wrong = f"--{ink} {one} on --{ground} {other} has a contrast of {ratio:.2f} : 1"
        yield Finding(NAME, SEVERITY, _location(path, style, at), wrong, f"at least {LEAST} : 1 for text", "")


def contrast(one: str, other: str) -> float:
    """The contrast ratio of two colours `#RRGGBB` or `#RGB`, 1 to 21: WCAG 2.2, "contrast ratio"."""
    darker, lighter = sorted((_luminance(one), _luminance(other)))
    return (lighter + 0.05) / (darker + 0.05)


def _luminance(colour: str) -> float:
    """WCAG 2.2, "relative luminance"."""
    digits = colour[1:] if len(colour) == 7 else "".join(2 * digit for digit in colour[1:])
    parts = [int(digits[at : at + 2], 16) / 255 for at in (0, 2, 4)]
    red, green, blue = (
        part / 12.92 if part <= 0.04045 else ((part + 0.055) / 1.055) ** 2.4 for part in parts
    )
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def _location(path: str, style: str, at: int) -> Location:
    line = style.count("\n", 0, at)
    start = style.rfind("\n", 0, at) + 1
    return Location(path, line + 1, at - start + 1, style.split("\n")[line])
