"""The table of rules; nothing else in the program lists them."""

from __future__ import annotations

from lessonpress.preflight.rule import Rule
from lessonpress.preflight.rules import (
    alt_text,
    answer,
    caution,
    direction,
    expected_range,
    health_claim,
    no_scale,
    range_source,
    swallowed,
    title_promise,
    typed_number,
)

# the most severe first
RULES: tuple[Rule, ...] = (
    typed_number,
    direction,
    swallowed,
    answer,
    no_scale,
    health_claim,
    range_source,
    expected_range,
    caution,
    title_promise,
    alt_text,
)
