"""Lengths under the pointer, measured as the press measures."""

from __future__ import annotations

from dataclasses import replace
from typing import Any, Literal

from lessonpress.desk.answers import Body, RefusedError, number_in, text_in, whole_in
from lessonpress.desk.drafts import sketch_in
from lessonpress.desk.numbers import measured_json
from lessonpress.desk.studio import Studio, sketched
from lessonpress.figures.surveyed_clip import survey_clip
from lessonpress.measure import At, Survey
from lessonpress.records.mark import Sighting
from lessonpress.records.problem import Problems

AXES: tuple[Literal["straight", "level", "plumb"], ...] = ("straight", "level", "plumb")
POINTER = ("pointer-a", "pointer-b")  # points that are no marks


def length(studio: Studio, name: str, body: Body) -> dict[str, Any]:
    """What `POST /api/clips/CLIP/length` answers. Points that are no marks lie in the subject plane."""
    frame = whole_in(body, "frame")
    axis = next((one for one in AXES if one == body.get("axis", "straight")), None)
    if axis is None:
        raise RefusedError(400, f"`axis` is to be one of {', '.join(AXES)}")
    clip = sketched(studio.clip(name), sketch_in(body))
    filmed = survey_clip(clip, studio.study(clip), studio.site().units, Problems(), plausible=False)
    if filmed is None:
        raise RefusedError(422, f"the card of {name} cannot be used yet", "answer what it asks")
    points = [_point(body, key, pointer) for key, pointer in zip(("a", "b"), POINTER, strict=True)]
    free = [Sighting(point[0], frame, *point[1]) for point in points if point[1] is not None]
    setting = filmed.survey.setting
    setting = replace(setting, room=setting.room | set(POINTER))
    survey = Survey(setting, (*free, *filmed.clip.sightings), studio.site().units)
    for mark, place in points:
        if place is None and not filmed.sees(mark, frame):
            raise RefusedError(422, f"`{mark}` is not placed on frame {frame}", "place it there")
    ends = [At(mark, frame) for mark, _ in points]
    return measured_json(survey.distance(ends[0], ends[1], axis), studio.site().units)


def _point(body: Body, key: str, pointer: str) -> tuple[str, tuple[float, float] | None]:
    given = body.get(key)
    if isinstance(given, list) and len(given) == 2:
        return pointer, (number_in(given[0], f"`{key}`"), number_in(given[1], f"`{key}`"))
    return text_in(body, key), None
