"""The moments of a swing that can be found in a film, by their names; a site may call them otherwise."""

from __future__ import annotations

from typing import Literal, get_args

MomentName = Literal["start", "setup", "halfway", "top", "delivery", "impact", "finish"]
MOMENTS: tuple[MomentName, ...] = get_args(MomentName)
