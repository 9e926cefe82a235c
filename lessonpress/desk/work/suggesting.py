"""Marks suggested on one picture, and kept as questions beside the clip's marks."""

from __future__ import annotations

from typing import Any

from lessonpress.desk.http.requests import Suggest
from lessonpress.desk.http.responses import RequestError, usage_as_refusal
from lessonpress.desk.views.livesite import LiveSite
from lessonpress.footage import SUGGESTED, FootageError
from lessonpress.intake import OpenedClip, keep_suggestions, suggested_in
from lessonpress.records import UsageError


def suggest(live: LiveSite, name: str, asked: Suggest) -> dict[str, Any]:
    """What `POST /api/clips/CLIP/suggest` answers. Raises RequestError."""
    if not live.site().suggested:
        raise RequestError(422, "site.yaml says `suggested: no`", "place the marks by hand")
    clip = live.clip(name)
    if clip.card is None:
        raise RequestError(422, f"the card of {name} cannot be used yet", "answer what it asks")
    opened = OpenedClip(clip, live.index(clip), {})
    if asked.frame >= len(opened.index):
        raise RequestError(400, f"{name} has no frame {asked.frame}")
    try:
        (found,) = suggested_in(opened, [asked.frame], SUGGESTED)
        with live.saving:
            keep_suggestions(live.root, opened, SUGGESTED, [found])
    except UsageError as error:
        raise usage_as_refusal(error) from error
    except FootageError as error:
        raise RequestError(422, error.reason, error.way_out) from error
    rows = {row.mark: [row.x, row.y, row.u] for row in found.rows}
    return {"frame": found.frame, "rows": rows, "missing": dict(found.missing), "why": found.why}
