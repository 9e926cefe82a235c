"""Turns a card into the setting of a measurement: plain facts without files."""

from __future__ import annotations

from collections.abc import Mapping

import numpy as np

from lessonpress import manuscript as written
from lessonpress import measure as facts
from lessonpress.figures.plan.instants import frame_of_instant
from lessonpress.footage import ClipIndex, Study, Unregistered, pace_within, suggested_errors
from lessonpress.manuscript import Card, Clip
from lessonpress.records import Length, Problems


def setting_of(
    clip: Clip,
    card: Card,
    study: Study,
    events: Mapping[str, int],
    seconds: tuple[float, ...],
    problems: Problems,
) -> facts.Setting:
    """How a clip was filmed, in metres, seconds and px; instants of the card become frames."""
    index = study.index
    return facts.Setting(
        clip=clip.name,
        size=index.size,
        view=card.view,
        hand=card.hand,
        target_right=card.flight[1],
        camera=_camera(card.camera),
        plumb=card.plumb,
        scales=tuple(
            scale
            for number, entry in enumerate(card.scale)
            if (scale := _scale(entry, number, clip, card, index, events, problems)) is not None
        ),
        stature=_metres(card.stature),
        implement_length=_metres(card.implement_length),
        depth=_depths(clip, card, index, events, problems),
        lens=_lens(card.lens),
        middles=card.middles,
        room=frozenset(card.room),
        times=seconds,
        readout=card.readout,
        shutter=card.shutter,
        pace_within=pace_within(index.times, card.filmed_at, study.repeats),
        impact=events.get("impact"),
        events=events,
        motion=_motion(study),
        suggested=suggested_errors(card.view) if any(seen.suggested for seen in clip.observations) else None,
    )


def _motion(study: Study) -> facts.Motion | None:
    """The camera's motion as arrays; NaN for pictures that could not be registered, which figures refuse.

    Its uncertainty is taken at the picture's middle, where the golfer is.
    """
    motion = study.motion
    if motion is None:
        return None
    count, middle = len(study.index), (study.index.size[0] / 2, study.index.size[1] / 2)
    matrices, residual = np.full((count, 3, 3), np.nan), np.full(count, np.nan)
    for frame in range(count):
        matrix, u = motion.to_reference(frame), motion.uncertainty(frame, middle)
        if not isinstance(matrix, Unregistered) and not isinstance(u, Unregistered):
            matrices[frame], residual[frame] = matrix, u
    return facts.Motion(matrices, residual, motion.reference, motion.model == "still")


def _metres(length: Length | None) -> float | None:
    return None if length is None else length.metres


def _within(length: Length | None) -> float:
    return 0.0 if length is None else length.metres


def _camera(camera: written.Camera) -> facts.Camera:
    return facts.Camera(
        distance=_metres(camera.distance),
        within=_metres(camera.within),
        wall=_metres(camera.wall),
        wall_within=_metres(camera.wall_within),
        still=camera.still,
    )


def _lens(lens: written.Lens | None) -> facts.Lens:
    if lens is None:
        return facts.Lens()
    return facts.Lens(lens.k1, lens.k2, lens.focal, lens.centre, lens.lines)


def _depth(depth: written.Depth | None) -> facts.Depth | None:
    return None if depth is None else facts.Depth(depth.toward.metres, depth.within.metres)


def _scale(
    entry: written.Between | written.Grid | written.Standing,
    number: int,
    clip: Clip,
    card: Card,
    index: ClipIndex,
    events: Mapping[str, int],
    problems: Problems,
) -> facts.Scale | None:
    if isinstance(entry, written.Standing):
        location = card.location_of("scale", number, "at")
        frame = frame_of_instant(entry.at, events, index, location, problems, clip)
        return None if frame is None else facts.Standing(entry.standing, frame)
    if isinstance(entry, written.Grid):
        width, height = entry.size
        return facts.WallGrid(
            corners=entry.grid,
            size=(width.metres, height.metres),
            within=_within(entry.within),
            depth=_depth(entry.depth),
            plane=entry.plane,
            frame=_common_frame(entry.grid, clip, card),
        )
    return facts.KnownLength(
        between=entry.between,
        length=entry.length.metres,
        within=_within(entry.within),
        depth=_depth(entry.depth),
        plane=entry.plane,
        frame=_common_frame(entry.between, clip, card),
    )


def _common_frame(marks: tuple[str, ...], clip: Clip, card: Card) -> int | None:
    """None for marks of the room, which hold for every frame; else the first frame that places them all."""
    if all(mark in card.room for mark in marks):
        return None
    frames = [
        {seen.frame for seen in clip.observations if seen.mark == mark}
        for mark in marks
        if mark not in card.room
    ]
    common = set.intersection(*frames)
    return min(common) if common else None


def _depths(
    clip: Clip, card: Card, index: ClipIndex, events: Mapping[str, int], problems: Problems
) -> dict[str, facts.Depth | Mapping[int, facts.Depth]]:
    depths: dict[str, facts.Depth | Mapping[int, facts.Depth]] = {}
    for mark in card.depth:
        by_frame: dict[int, facts.Depth] = {}
        for instant, depth in card.depths(mark):
            stated = facts.Depth(depth.toward.metres, depth.within.metres)
            if instant is None:
                depths[mark] = stated
                continue
            location = card.location_of("depth", mark, instant.text)
            frame = frame_of_instant(instant, events, index, location, problems, clip)
            if frame is not None:
                by_frame[frame] = stated
        if by_frame:
            depths[mark] = by_frame
    return depths
