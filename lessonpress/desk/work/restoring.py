"""What files were before they were saved: listed, held against what they are now, brought back."""

from __future__ import annotations

import difflib
from itertools import islice
from typing import Any

from lessonpress.desk.http.responses import RequestError, usage_as_refusal
from lessonpress.desk.views.livesite import LiveSite
from lessonpress.press import Save, restore, saves_of
from lessonpress.records import UsageError

MOST_LINES = 300  # of a difference
LONGEST = 400_000  # bytes of texts that are held against each other


def listed(live: LiveSite) -> dict[str, Any]:
    """The saves there are, the newest first."""
    return {"saves": [_row(save, live) for save in saves_of(live.root)]}


def _row(save: Save, live: LiveSite) -> dict[str, Any]:
    """same: whether the file holds the very same now."""
    file = live.root / save.path
    return {
        "number": save.number,
        "path": save.path,
        "at": save.at.isoformat(),
        "bytes": len(save.content),
        "same": file.is_file() and file.read_bytes() == save.content,
    }


def difference(live: LiveSite, number: int) -> dict[str, Any]:
    """What bringing a file back to before a save would do, line by line."""
    save = next((one for one in saves_of(live.root) if one.number == number), None)
    if save is None:
        raise RequestError(404, f"save {number} is not kept", "the last hundred are")
    file = live.root / save.path
    now = file.read_bytes() if file.is_file() else b""
    if len(now) + len(save.content) > LONGEST:
        raise RequestError(413, "the file is too long to be held against itself", "bring it back and look")
    then, today = (one.decode("utf-8", "replace").splitlines() for one in (save.content, now))
    lines = list(difflib.unified_diff(today, then, n=1, lineterm=""))[2:]
    return {
        **_row(save, live),
        "lines": list(islice(lines, MOST_LINES)),
        "more": max(0, len(lines) - MOST_LINES),
    }


def brought_back(live: LiveSite, path: str, number: int) -> dict[str, Any]:
    """Brings a file back to what it was before a save. Raises RequestError where that is not kept."""
    try:
        save = restore(live.root, live.root / path, number)
    except UsageError as error:
        raise usage_as_refusal(UsageError(str(error).replace(f"{live.root}/", ""))) from error
    return {"path": save.path, "number": save.number}
