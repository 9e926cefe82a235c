"""The last look before publishing, as the desk shows it: what `lessonpress preflight` prints."""

from __future__ import annotations

from typing import Any

from lessonpress.desk.views.livesite import LiveSite
from lessonpress.press import Silent, preflight

MOST = 500  # findings that are listed


def looked(live: LiveSite) -> dict[str, Any]:
    """Looks at the site, its drafts too; what is left to look at first, then what is answered."""
    made = preflight(live.root, Silent(), own_themes=live.own_themes, drafts=True)
    rows = made.rows()
    return {"findings": rows[:MOST], "more": max(0, len(rows) - MOST)}
