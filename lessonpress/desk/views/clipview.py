"""One clip as the pages need it: what its video, its card and its survey say, and its marks."""

from __future__ import annotations

from typing import Any

from lessonpress.desk.files import marksfile
from lessonpress.desk.files.versions import version_at
from lessonpress.desk.http.responses import RequestError, problems_json
from lessonpress.desk.views.livesite import LiveSite
from lessonpress.desk.views.numbers import number_json, refusal_json, stature_words
from lessonpress.desk.views.pictures import Roll
from lessonpress.drawing import BLOCKS
from lessonpress.figures import Lettered, SurveyedClip
from lessonpress.manuscript import ACCEPTED, SUGGESTIONS, Clip, read_suggestions, read_text
from lessonpress.measure import CLICK_U, LEAST_CLICK_U, SHANK, THIGH, At, Measured, Units, printed
from lessonpress.records import Observation, Problems

BUILDS_DIFFER = (
    0.08  # of stature, k = 2: how far a leg's share may be off (common practice, no published source)
)


def roll_of(live: LiveSite, clip: Clip) -> Roll:
    """Raises RequestError where there is no readable video."""
    return Roll(live.video(clip), live.index(clip), clip.card.deinterlace if clip.card else False)


def clip_json(live: LiveSite, name: str) -> dict[str, Any]:
    """What `GET /api/clips/CLIP` answers. Raises RequestError."""
    clip = live.clip(name)
    roll, units = roll_of(live, clip), live.site().units
    index = roll.index
    problems = Problems(live.problems_under(f"clips/{name}/"))
    content: dict[str, Any] = {
        "name": name,
        "title": clip.title,
        "frames": len(index),
        "size": list(index.size),
        "times": list(index.times),
        "seconds": list(index.times),
        "rate": float(index.rate),
        "start_timecode": index.start_timecode,
        "fingerprint": index.fingerprint,
        "interlaced": index.interlaced,
        "default_u": max(LEAST_CLICK_U, CLICK_U * min(index.size)),
        "least_u": LEAST_CLICK_U,
        "block": BLOCKS[units],
        "picture": f"/api/clips/{name}/pictures/{{frame}}.webp?of={roll.name}",
        "stretch": f"/api/clips/{name}/stretches/{{first}}-{{last}}?of={roll.name}",
        "thumbnail": f"/api/clips/{name}/thumbnails/{{frame}}.webp?of={roll.name}",
        **_UNKNOWN,
    }
    if clip.card is not None:
        content |= _carded(live.filmed(clip, problems), units)
    return {**content, "problems": problems_json(problems.in_order())}


_UNKNOWN: dict[str, Any] = {
    "view": None,
    "hand": None,
    "positive_right": 1,
    "goal": "target",
    "events": {},
    "middles": {},
    "room": [],
    "lengths_refused": {"reason": "the card is not filled in yet", "way_out": "answer what it asks"},
    "assumptions": [],
    "px_per_metre": None,
    "stature": {"text": None, "implied": None, "from": ""},
}


def _carded(filmed: SurveyedClip, units: Units) -> dict[str, Any]:
    card, survey = filmed.card, filmed.survey
    return {
        "seconds": list(filmed.seconds),
        "view": card.view,
        "hand": card.hand,
        "positive_right": card.flight[1],
        "goal": card.goal,
        "events": dict(filmed.events),
        "middles": {name: list(members) for name, members in card.middles.items()},
        "room": list(card.room),
        "lengths_refused": refusal_json(survey.lengths_refused),
        "assumptions": list(survey.assumptions),
        "px_per_metre": survey.px_per_metre(),
        "stature": _stature(filmed, units),
    }


def doubts_json(live: LiveSite, name: str) -> dict[str, Any]:
    """What `GET /api/clips/CLIP/doubts` answers: every limb is measured for it, which takes a while."""
    clip, problems = live.clip(name), Problems()
    if clip.card is None:
        return {"warnings": []}
    live.filmed(clip, problems, press=True)
    return {"warnings": [one.wrong for one in problems.in_order() if one.severity == "warning"]}


def _stature(filmed: SurveyedClip, units: Units) -> dict[str, Any]:
    """What the scale makes of the golfer's height, by thigh and shank: the parts that bend least at setup."""
    stated = filmed.card.stature.text if filmed.card.stature else None
    frame = filmed.events.get("setup")
    each = [_leg(filmed, side, frame) for side in ("lead", "trail")] if frame is not None else []
    legs = [leg for leg in each if leg is not None]
    if not legs:
        return {"text": stated, "implied": None, "from": "hip, knee and ankle at setup are wanted"}
    length, pm = (sum(leg[number] for leg in legs) / len(legs) for number in (0, 1))
    share = THIGH + SHANK
    height = length / share
    spread = ((pm / share) ** 2 + (BUILDS_DIFFER * height) ** 2) ** 0.5
    said = printed(height, spread, "length", units)
    number = number_json(Lettered(said.value, said.unit, said.pm, ""))
    implied = {**(number or {}), "words": stature_words(said.value, said.unit)}
    return {"text": stated, "implied": implied, "from": "thigh and shank at setup, by published proportions"}


def _leg(filmed: SurveyedClip, side: str, frame: int) -> tuple[float, float] | None:
    """Thigh and shank of a side, m, and the expanded uncertainty of their sum taken as fully correlated."""
    marks = [f"{side}-{part}" for part in ("hip", "knee", "ankle")]
    if not all(filmed.sees(mark, frame) for mark in marks):
        return None
    hip, knee, ankle = (At(mark, frame) for mark in marks)
    parts = [filmed.survey.distance(hip, knee), filmed.survey.distance(knee, ankle)]
    if not all(isinstance(part, Measured) for part in parts):
        return None
    measured = [part for part in parts if isinstance(part, Measured)]
    return sum(part.value for part in measured), sum(part.uncertainty for part in measured)


def marks_json(live: LiveSite, name: str) -> dict[str, Any]:
    """What `GET /api/clips/CLIP/marks` answers."""
    clip = live.clip(name)
    version, marks = marksfile.read(clip.folder / marksfile.NAME_OF_FILE)
    placed: dict[str, dict[str, list[float | str]]] = {mark: {} for mark in marks.names}
    for seen in marks.observations:
        placed[seen.mark][str(seen.frame)] = _hand(seen)
    tracks: dict[str, dict[str, list[float | int | None]]] = {}
    for seen in clip.tracks:
        tracks.setdefault(seen.mark, {})[str(seen.frame)] = [seen.x, seen.y, seen.u, seen.origin]
    return {
        "version": version,
        "marks": placed,
        "tracks_version": version_at(clip.folder / "tracks.csv"),
        "tracks": tracks,
        "suggested": _suggested(live, clip),
        "problems": problems_json(
            [
                one
                for one in live.problems_under(f"clips/{name}/")
                if not one.location.path.endswith("clip.yaml")
            ]
        ),
    }


def _hand(seen: Observation) -> list[float | str]:
    placing: list[float | str] = [seen.x, seen.y] if seen.u is None else [seen.x, seen.y, seen.u]
    return [*placing, ACCEPTED] if seen.suggested else placing


def _suggested(live: LiveSite, clip: Clip) -> dict[str, dict[str, list[float | None]]]:
    """What is suggested where no hand has placed the mark; rows with mistakes are left out."""
    file = clip.folder / SUGGESTIONS
    passage = read_text(live.root, file, Problems()) if file.is_file() else None
    by_hand = {(seen.mark, seen.frame) for seen in clip.hand_placed}
    found: dict[str, dict[str, list[float | None]]] = {}
    for seen in read_suggestions(passage, Problems()).observations if passage else ():
        if (seen.mark, seen.frame) not in by_hand:
            found.setdefault(seen.mark, {})[str(seen.frame)] = [seen.x, seen.y, seen.u]
    return found


def checked_frame(given: str) -> int:
    if not given.isdecimal() or len(given) > 8:
        raise RequestError(404, "frames are whole numbers from 0")
    return int(given)
