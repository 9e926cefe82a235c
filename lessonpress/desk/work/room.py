"""Lengths under the pointer, measured as the press measures."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

from lessonpress.desk.http.requests import Length
from lessonpress.desk.http.responses import RequestError
from lessonpress.desk.views.livesite import LiveSite, sketched
from lessonpress.desk.views.numbers import measured_json
from lessonpress.figures import survey_clip
from lessonpress.measure import At
from lessonpress.records import Observation, Problems

POINTER = ("pointer-a", "pointer-b")  # points that are no marks


def length(live: LiveSite, name: str, asked: Length) -> dict[str, Any]:
    """What `POST /api/clips/CLIP/length` answers. Points that are no marks lie in the subject plane."""
    frame = asked.frame
    clip = sketched(live.clip(name), asked.marks)
    beside, units = live.beside(clip), live.site().units
    filmed = survey_clip(clip, live.study(clip), units, Problems(), plausible=False, beside=beside)
    if filmed is None:
        raise RequestError(422, f"the card of {name} cannot be used yet", "answer what it asks")
    points = [_point(end, pointer) for end, pointer in zip((asked.a, asked.b), POINTER, strict=True)]
    if points[0][0] == points[1][0]:
        raise RequestError(422, f"`{points[0][0]}` is both ends of it", "name another mark")
    free = [Observation(point[0], frame, *point[1]) for point in points if point[1] is not None]
    setting = filmed.survey.setting
    setting = replace(setting, room=setting.room | set(POINTER))
    survey = beside.like(filmed.card, Problems()).survey(setting, (*free, *filmed.clip.observations), units)
    for mark, at in points:
        if at is None and not filmed.sees(mark, frame):
            raise RequestError(422, f"`{mark}` is not placed on frame {frame}", "place it there")
    ends = [At(mark, frame) for mark, _ in points]
    return measured_json(survey.distance(ends[0], ends[1], asked.axis), live.site().units)


def _point(end: tuple[float, float] | str, pointer: str) -> tuple[str, tuple[float, float] | None]:
    """The mark to measure to, and its place where it is none of the clip's."""
    return (end, None) if isinstance(end, str) else (pointer, end)
