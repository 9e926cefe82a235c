"""When the events of a clip happen, how long backswing and downswing take, and their ratio."""

from __future__ import annotations

import math
from itertools import pairwise

from lessonpress.figures.bind.surveyed_clip import SurveyedClip
from lessonpress.figures.plates import ClipFacts, Timed
from lessonpress.figures.words.ledger import LedgerEntry, ledger_measure
from lessonpress.measure import Measured, Refusal, Units, printed
from lessonpress.records import Measure

TEMPO = "tempo"
PARTS = (("backswing", "start", "top"), ("downswing", "top", "impact"))
STANDS_FOR = {"start": "setup"}  # where a card does not name the first


def facts_of(filmed: SurveyedClip) -> ClipFacts:
    """The clip's times, its camera's motion and what its numbers assume."""
    events = tuple(
        Timed(event, (frame,), filmed.seconds[frame], 2 * _with_pace(filmed, filmed.seconds[frame], frame))
        for event, frame in sorted(filmed.events.items(), key=lambda item: item[1])
    )
    return ClipFacts(
        clip=filmed.name,
        title=filmed.title,
        events=events,
        parts=tuple(part for one in PARTS if (part := _part(filmed, *one)) is not None),
        camera=_camera_words(filmed),
        repeated=len(filmed.study.repeats),
        assumed=filmed.survey.assumptions,
        lens=_lens_words(filmed),
    )


def tempo_of(filmed: SurveyedClip, units: Units) -> Measure:
    """(top − start) ÷ (impact − top), refused where an event is wanting."""
    frames = {name: event_frame(filmed, name) for name in ("start", "top", "impact")}
    return ledger_measure(
        LedgerEntry(
            id=TEMPO,
            kind=TEMPO,
            dimension="ratio",
            figure="",
            letter="",
            clip=filmed.name,
            plane="",
            axis=None,
            since=None,
            points=(),
            name="Tempo, backswing to downswing",
            expected=None,
        ),
        _tempo(filmed, frames),
        units,
    )


def _tempo(filmed: SurveyedClip, frames: dict[str, int | None]) -> Measured | Refusal:
    start, top, impact = frames["start"], frames["top"], frames["impact"]
    if start is None or top is None or impact is None:
        wanting = ", ".join(name for name, frame in frames.items() if frame is None)
        return Refusal(f"the clip {filmed.name} has no event {wanting}", "name it under events on the card")
    return filmed.survey.tempo(start, top, impact)


def event_frame(filmed: SurveyedClip, name: str) -> int | None:
    """An event's frame, that of what is used in its place, or None."""
    return filmed.events.get(name, filmed.events.get(STANDS_FOR.get(name, name)))


def _part(filmed: SurveyedClip, name: str, first: str, last: str) -> Timed | None:
    start, end = event_frame(filmed, first), event_frame(filmed, last)
    if start is None or end is None or start >= end:
        return None
    seconds = filmed.seconds[end] - filmed.seconds[start]
    return Timed(name, (start, end), seconds, 2 * _with_pace(filmed, seconds, start, end))


def _with_pace(filmed: SurveyedClip, seconds: float, *frames: int) -> float:
    """Standard uncertainty of a time, s: of the pictures at its ends, and of the pace of all pictures."""
    pace = (filmed.survey.setting.pace_within or 0.0) / math.sqrt(3)
    return math.hypot(seconds * pace, *(_u(filmed, frame) for frame in frames))


def _u(filmed: SurveyedClip, frame: int) -> float:
    """Standard uncertainty of an event's time, s: half the wider gap to a neighbouring captured picture."""
    times = sorted(set(filmed.seconds))
    position = times.index(filmed.seconds[frame])
    gaps = [late - early for early, late in pairwise(times[max(0, position - 1) : position + 2])]
    return max(gaps, default=0.0) / 2 / math.sqrt(3)


def _lens_words(filmed: SurveyedClip) -> str:
    """k1 with its ±, and by how much the marks miss the lines it was solved from; "" where it was not."""
    lens = filmed.survey.lens
    if lens is None:
        return ""
    number = printed(lens.k1, 2 * lens.u, "ratio", "in")
    assumed = "" if lens.stated else ", assumed"
    lines = "1 straight line" if lens.lines == 1 else f"{lens.lines} straight lines"
    return (
        f"k1 {number.value} ± {number.pm} at a focal length of {lens.focal:.0f} px{assumed}, from {lines} "
        f"of {lens.marks} marks, which miss them by {lens.residual:.1f} px"
    )


def _camera_words(filmed: SurveyedClip) -> str:
    motion = filmed.study.motion
    if motion is None:
        return "stood still, by the card"
    if motion.model == "still":
        return "stood still, by the pictures"
    return f"moved by up to {motion.furthest:.0f} px, found as a {motion.model} of the background"
