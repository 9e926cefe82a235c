"""The events that a clip's film suggests, by the names that the site uses."""

from __future__ import annotations

import json
from typing import Any

import numpy as np

from lessonpress.desk.http.responses import RequestError
from lessonpress.desk.views.livesite import LiveSite
from lessonpress.desk.views.motion import changes_of
from lessonpress.figures import SurveyedClip
from lessonpress.footage import Film, FootageError, Found, Moment, can_suggest, film_moments
from lessonpress.intake import OtherClip, clips_that_name, named_events, own_names, usual_events
from lessonpress.records import Problems


def events_json(live: LiveSite, name: str) -> dict[str, Any]:
    """What `GET /api/clips/CLIP/proposed` answers. Raises RequestError."""
    found = proposed_of(live, name)
    return {
        "events": [
            {"name": event, "frame": at.frame, "within": at.within} for event, at in found.moments.items()
        ],
        "why": found.why,
    }


def proposed_of(live: LiveSite, name: str) -> Found:
    """The site's usual events in the clip's film. Raises RequestError where its card cannot be used yet."""
    site, clip = live.site(), live.clip(name)
    filmed = live.filmed(clip, Problems())
    others = [
        OtherClip(other.events, other.seconds)
        for one in clips_that_name(site, own_names(site, usual_events(site, name)), name)
        if (other := _filmed(live, one.name)) is not None
    ]
    return named_events(_moments(live, filmed), filmed.seconds, site, name, others)


def _filmed(live: LiveSite, name: str) -> SurveyedClip | None:
    try:
        return live.filmed(live.clip(name), Problems())
    except RequestError:
        return None


def _moments(live: LiveSite, filmed: SurveyedClip) -> Found:
    """The moments of the film; kept, since the clip is played for them."""
    card, index = filmed.card, filmed.index
    made_of = (index.fingerprint, card.deinterlace, card.view, card.camera.still, can_suggest())
    pace = np.array(filmed.seconds)
    entry = live.cache.entry("desk-moments", (*made_of, pace.tobytes().hex()))
    kept = entry.kept()
    if kept is not None:
        known = json.loads(kept)
        return Found({name: Moment(*at) for name, at in known["moments"].items()}, known["why"])
    film = Film(live.video(filmed.clip), index, pace, card.view, card.camera.still, card.deinterlace)
    try:
        found = film_moments(film, changes_of(live, filmed.name))
    except FootageError as error:
        raise RequestError(422, error.reason, error.way_out) from error
    told = {name: [at.frame, at.within] for name, at in found.moments.items()}
    entry.keep(json.dumps({"moments": told, "why": found.why}).encode())
    return found
