"""The last look before publishing, as the desk shows it: what `lessonpress preflight` prints."""

from __future__ import annotations

from typing import Any

from lessonpress.desk.views.livesite import LiveSite
from lessonpress.preflight import Finding
from lessonpress.press import Silent, preflight

MOST = 500  # findings that are listed


def looked(live: LiveSite) -> dict[str, Any]:
    """Looks at the site, its drafts too; what is left to look at first, then what is answered."""
    made = preflight(live.root, Silent(), own_themes=live.own_themes, drafts=True)
    rows = [_row(one, None) for one in made.open] + [_row(one, reason) for one, reason in made.settled]
    return {"findings": rows[:MOST], "more": max(0, len(rows) - MOST)}


def _row(one: Finding, reason: str | None) -> dict[str, Any]:
    """answered: the author's reason, None while there is none. id: None where none may be given."""
    problem = one.problem
    return {
        "id": one.id or None,
        "rule": one.rule,
        "severity": one.severity,
        "path": problem.location.path,
        "line": problem.location.line,
        "column": problem.location.column,
        "wrong": one.wrong,
        "right": one.right,
        "answered": reason,
    }
