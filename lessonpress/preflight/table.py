"""The table of rules; nothing else in the program lists them."""

from __future__ import annotations

from lessonpress.preflight.rule import Rule
from lessonpress.preflight.rules import (
    alt_text,
    answer,
    caution,
    contrast,
    dead_link,
    direction,
    expected_range,
    health_claim,
    no_scale,
    page_weight,
    picture_rights,
    range_source,
    rights_ending,
    swallowed,
    title_promise,
    typed_number,
    unsealed_marks,
    unused_clip,
    unused_marks,
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
    dead_link,
    contrast,
    rights_ending,
    picture_rights,
    page_weight,
    unsealed_marks,
    unused_clip,
    unused_marks,
)
