"""The table of rules; nothing else in the program lists them."""

from __future__ import annotations

from lessonpress.preflight.rule import Rule
from lessonpress.preflight.rules import answer, direction, swallowed, typed_number

# the most severe first
RULES: tuple[Rule, ...] = (
    typed_number,
    direction,
    swallowed,
    answer,
)
