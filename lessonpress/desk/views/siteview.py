"""The site as the pages need it: its clips, its lessons, its words, and what may be drawn."""

from __future__ import annotations

from typing import Any, get_args

from lessonpress.desk.files.putaway import put_away_in
from lessonpress.desk.http.responses import RequestError, problems_json
from lessonpress.desk.views.clipview import roll_of
from lessonpress.desk.views.lessonnumbers import numbers_of_lessons
from lessonpress.desk.views.livesite import LiveSite
from lessonpress.desk.work.composing import kind_json
from lessonpress.figures import FIGURES, clips_of
from lessonpress.manuscript import Clip, Consent, Mapping, Node, Scalar, Sequence, Site, SourceKind
from lessonpress.overlays import KINDS
from lessonpress.records import KNOWN_MARKS, Hand, View


def site_json(live: LiveSite, may_change: bool) -> dict[str, Any]:
    """What `GET /api/site` answers. Raises RequestError where site.yaml makes no site."""
    site = live.site()
    return {
        "title": site.title,
        "author": site.author,
        "folder": live.root.name,
        "units": site.units,
        "may_change": may_change,
        "suggested": site.suggested,
        "clips": [_clip(live, site, clip) for clip in site.clips.values()],
        "lessons": [
            {
                "name": lesson.name,
                "path": lesson.path,
                "title": lesson.title,
                "date": lesson.date.isoformat(),
                "clip": lesson.clip,
                "draft": lesson.draft,
                "held": lesson.held,
            }
            for lesson in reversed(site.lessons)
        ],
        "put_away": list(put_away_in(live.root)),
        "numbers": _followable(site),
        "sets": {name: [_said(node) for node in nodes] for name, nodes in site.sets.items()},
        "ranges": {name: named.range.text for name, named in site.ranges.items()},
        "implement": {"name": site.implement.name, "head": site.implement.head},
        "marks": _marks(),
        "kinds": [kind_json(kind) for kind in KINDS.values()],
        "figures": list(FIGURES),
        "card": {
            "view": get_args(View),
            "hand": get_args(Hand),
            "source.kind": get_args(SourceKind),
            "people.consent": get_args(Consent),
        },
        "problems": problems_json(live.seen().problems.in_order()),
    }


def _followable(site: Site) -> dict[str, tuple[str, ...]]:
    """The ids of numbers that a chart may follow: two lessons for everyone have them."""
    everyone = [lesson for lesson in site.pressed if not lesson.private]
    return {name: lessons for name, lessons in numbers_of_lessons(everyone).items() if len(lessons) > 1}


def _clip(live: LiveSite, site: Site, clip: Clip) -> dict[str, Any]:
    content: dict[str, Any] = {
        "name": clip.name,
        "title": clip.title,
        "video": clip.card.video if clip.card else None,
        "has_card": clip.card is not None,
        "events": list(clip.card.events) if clip.card else [],
        "lessons": [lesson.name for lesson in site.lessons if clip.name in clips_of(lesson, site)],
        "frames": None,
        "size": None,
        "poster": None,
    }
    try:
        roll = roll_of(live, clip)
    except RequestError:
        return content
    poster = f"/api/clips/{clip.name}/thumbnails/{len(roll.index) // 2}.webp?of={roll.name}"
    return {**content, "frames": len(roll.index), "size": list(roll.index.size), "poster": poster}


def _marks() -> dict[str, list[str]]:
    implement = [mark for mark in KNOWN_MARKS if mark.startswith("implement-")]
    body = [mark for mark in KNOWN_MARKS if mark not in implement and mark != "ball"]
    return {"body": body, "implement": implement, "thing": ["ball"]}


def _said(node: Node) -> Any:
    """A node as JSON: what the author wrote."""
    if isinstance(node, Mapping):
        return {key.written: _said(value) for key, value in node.entries}
    if isinstance(node, Sequence):
        return [_said(item) for item in node.items]
    assert isinstance(node, Scalar)
    return node.value
