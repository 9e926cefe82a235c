"""Marks suggested on one picture or on all, and kept as questions beside the clip's marks."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from lessonpress.desk.http.requests import Suggest
from lessonpress.desk.http.responses import RequestError, usage_as_refusal
from lessonpress.desk.views.livesite import LiveSite
from lessonpress.desk.work.streaming import StoppedError, Watcher, watched
from lessonpress.footage import SUGGESTED, FootageError, Suggestion, without_swaps
from lessonpress.intake import OpenedClip, keep_suggestions, suggested_in
from lessonpress.records import UsageError


def suggest(live: LiveSite, name: str, asked: Suggest) -> dict[str, Any]:
    """What `POST /api/clips/CLIP/suggest` answers. Raises RequestError."""
    opened = opened_for(live, name)
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


def opened_for(live: LiveSite, name: str) -> OpenedClip:
    """The clip on which marks are to be suggested. Raises RequestError where they cannot be."""
    if not live.site().suggested:
        raise RequestError(422, "site.yaml says `suggested: no`", "place the marks by hand")
    clip = live.clip(name)
    if clip.card is None:
        raise RequestError(422, f"the card of {name} cannot be used yet", "answer what it asks")
    return OpenedClip(clip, live.index(clip), {})


def suggest_everywhere(live: LiveSite, opened: OpenedClip) -> Iterator[bytes]:
    """Suggests marks on all pictures of a clip, a line of the answer for each.

    Sides that change places and limbs that grow are left out by the pictures beside. Where no one reads on,
    what was found until then is kept.
    """
    return watched("suggesting marks", lambda watcher: _everywhere(live, opened, watcher))


def _everywhere(live: LiveSite, opened: OpenedClip, watcher: Watcher) -> None:
    frames, made = range(len(opened.index)), list[Suggestion]()
    try:
        for found in suggested_in(opened, frames, SUGGESTED):
            made.append(found)
            watcher.hears(progress=len(made), of=len(frames))
            watcher.reads_on()
        watcher.hears(done=True, **_kept(live, opened, made))
    except StoppedError:
        _kept(live, opened, made)
        raise
    except UsageError as error:
        refusal = usage_as_refusal(error)
        watcher.hears(error={"reason": refusal.reason, "way_out": refusal.way_out})
    except FootageError as error:
        watcher.hears(error={"reason": error.reason, "way_out": error.way_out})


def _kept(live: LiveSite, opened: OpenedClip, made: list[Suggestion]) -> dict[str, Any]:
    """Writes what is left of suggestions that follow one another; how much that is, and why there is none."""
    left = without_swaps(made)
    with live.saving:
        keep_suggestions(live.root, opened, SUGGESTED, left)
    pictures = [len(one.rows) for one in left if one.rows]
    why = "; ".join(dict.fromkeys(one.why for one in left if one.why)) if not pictures else ""
    return {"pictures": len(pictures), "marks": sum(pictures), "why": why}
