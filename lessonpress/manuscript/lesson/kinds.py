"""The kinds of fenced blocks that the press sets."""

from __future__ import annotations

from typing import Literal

FIGURE_KINDS = ("frame", "strip", "pair", "loop", "progress", "plan")
TEXT_KINDS = ("caution", "drill")
EXAMPLE = "example"
KINDS = (*FIGURE_KINDS, *TEXT_KINDS, EXAMPLE)
Kind = Literal["frame", "strip", "pair", "loop", "progress", "plan", "caution", "drill", "example"]


def kind_and_rest(info: str) -> tuple[str, str]:
    """The first word after a fence, and what follows it."""
    kind, *rest = info.split(None, 1) or [""]
    return kind, " ".join(rest).strip()
