"""One swing of one body seen by two cameras, with everything on the cards and every click in error.

Face-on and down the line, each with its own room, camera, clock and pictures; what is true comes from the
studio's joints. Both cameras stand a step aside of square, as people put them up.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from lessonpress.measure import At, Camera, KnownLength, Setting, Survey
from lessonpress.records import Observation, View
from tests.studio.body import Swinger
from tests.studio.camera import Camera as Lens
from tests.studio.camera import looking_at
from tests.studio.clip import frame_times, seen
from tests.studio.draw import film_of
from tests.studio.room import Room
from tests.studio.truth import Truth, truth_of

Points = NDArray[np.float64]
Places = dict[str, dict[int, Points]]  # by mark and frame, px
STATURE_U, WITHIN_CAMERA, WITHIN_STICK, STICK = 0.02, 0.0508, 0.0025, 36 * 0.0254
MIDDLE = {"face-on": 0.05, "down-the-line": 0.35}  # m, where the camera is aimed
ABOVE_HAND = 0.055  # m of the handle beyond the lead hand's middle (`tests/studio/body.py`)
CLICK_U, TRACK_U = 1.5 / 720, 0.3
CLICKED = ("setup", "top", "impact")
FOLLOWED = ("lead-wrist", "implement-head", "c7")


@dataclass(frozen=True)
class Filmed:
    """One clip of the pair. times: real seconds of its pictures, counted from its first."""

    setting: Setting
    observations: tuple[Observation, ...]
    truth: Truth
    start: float  # seconds of the swing at its first picture

    def when(self, event: str) -> float:
        """Seconds of the swing at the picture of an event."""
        return self.start + (self.setting.times or ())[self.setting.events[event]]

    def at(self, mark: str, event: str) -> At:
        return At(mark, self.setting.events[event])

    def survey(self, second: Filmed | None = None, swings: Sequence[Filmed] = ()) -> Survey:
        other = None if second is None else Survey(second.setting, second.observations)
        others = [Survey(swing.setting, swing.observations) for swing in swings]
        return Survey(self.setting, self.observations, second=other, swings=others)

    def named(self, name: str) -> Filmed:
        """The same clip in a folder of that name."""
        return replace(self, setting=replace(self.setting, clip=name))


def filmed(
    body: Swinger,
    view: View,
    rng: np.random.Generator,
    *,
    rate: float = 240,
    followed: Sequence[str] = FOLLOWED,
    size: tuple[int, int] = (1280, 720),
    fill: float = 260.0,
    same: float = 0.0,
    mistaken: int | None = None,
    club_u: float | None = None,
    askew: float | None = None,
) -> Filmed:
    """A clip as an author would have it. fill: px a metre. followed: marks tracked from the top to impact.

    same: u in m, each way, of taking another point for a mark than is seen from the other side. mistaken: the
    seed of those points, for clips in which they are the same. club_u: m by which a card errs that says how
    long the club is; None where it does not. askew: rad, u of how far from square the camera stands; None as
    far as people put it up.
    """
    camera = _camera(rng, view, size, fill, askew)
    film = film_of(body, camera, view, room=Room() if size[0] > size[1] else _narrow(view))
    start = float(rng.uniform(0, 1 / rate))
    times = start + frame_times(body.duration - start - 2 / rate, rate)
    events = {name: int(np.argmin(np.abs(times - t))) for name, t in body.events.items()}
    span = range(events["top"], events["impact"] + 1) if followed else range(0)
    frames = sorted({0, *(events[event] for event in CLICKED), *span})
    shown = seen(film, times[frames])
    px = {name: dict(zip(frames, places, strict=True)) for name, places in shown.items()}
    names = [name for name in px if name not in film.room.marks]
    _mistake(px, names, camera, rng if mistaken is None else np.random.default_rng(mistaken), same)
    setting = _setting(body, view, camera, rng, events, times, film.room.marks)
    observations = [*_clicked(names, [events[e] for e in CLICKED], px, camera, rng)]
    observations += _clicked(list(film.room.marks), [0], px, camera, rng)
    observations += _tracked(followed, span, observations, px, rng)
    if club_u is not None:
        setting = replace(setting, implement_length=body.club_length + ABOVE_HAND + rng.normal(0, club_u))
    return Filmed(setting, tuple(observations), truth_of(body, camera, view), start)


def _mistake(px: Places, names: Sequence[str], camera: Lens, rng: np.random.Generator, u: float) -> None:
    """Take every mark for a point beside it, the same in all pictures."""
    px_a_metre = camera.focal / camera.distance
    for name in names:
        off = rng.normal(0, u * px_a_metre, 2) if u else np.zeros(2)
        px[name] = {frame: place + off for frame, place in px[name].items()}


def _narrow(view: View) -> Room:
    """A room whose marks an upright picture shows: the stick close by, the wall far behind."""
    return Room(wall=3.0, stick=MIDDLE[view] - 0.85, across=MIDDLE[view] + 0.05)


def _camera(
    rng: np.random.Generator, view: View, size: tuple[int, int], fill: float, askew: float | None = None
) -> Lens:
    aside, high, far = rng.uniform(-0.2, 0.2), rng.uniform(0.9, 1.2), rng.uniform(4.0, 4.6)
    if askew is not None:
        aside = far * np.tan(rng.normal(0, askew))
    middle = MIDDLE[view]
    aim = (middle, 0.92, 0.0)
    return looking_at(aim, (middle + aside, high, far), Lens(focal=fill * far, size=size))


def _setting(
    body: Swinger,
    view: View,
    camera: Lens,
    rng: np.random.Generator,
    events: Mapping[str, int],
    times: Points,
    room: Mapping[str, Points],
) -> Setting:
    return Setting(
        view,
        camera.size,
        view=view,
        hand="right",
        camera=Camera(
            camera.distance + rng.uniform(-WITHIN_CAMERA, WITHIN_CAMERA), WITHIN_CAMERA, still=True
        ),
        plumb=(("door-top", "door-foot"), ("cord-top", "cord-foot")),
        scales=(KnownLength(("stick-top", "stick-foot"), STICK, WITHIN_STICK),),
        stature=body.stature + rng.normal(0, STATURE_U),
        middles={"pelvis": ("trail-hip", "lead-hip")},
        room=frozenset(room),
        times=tuple(float(t - times[0]) for t in times),
        readout=0.0,
        shutter=1e-4,
        impact=events["impact"],
        events=dict(events),
    )


def _clicked(
    names: Sequence[str],
    frames: Sequence[int],
    px: Places,
    camera: Lens,
    rng: np.random.Generator,
) -> list[Observation]:
    u = CLICK_U * min(camera.size)
    placed = [(name, frame, px[name][frame] + rng.normal(0, u, 2)) for name in names for frame in frames]
    return [
        Observation(name, frame, float(x), float(y))
        for name, frame, (x, y) in placed
        if 0 <= x <= camera.size[0] and 0 <= y <= camera.size[1]
    ]


def _tracked(
    names: Sequence[str],
    span: Sequence[int],
    clicked: Sequence[Observation],
    px: Places,
    rng: np.random.Generator,
) -> list[Observation]:
    """Carried from the nearest click, with its error."""
    tracked = []
    for name in names:
        hands = [one for one in clicked if one.mark == name]
        for frame in span:
            if frame in {one.frame for one in hands}:
                continue
            hand = min(hands, key=lambda one, at=frame: abs(one.frame - at))  # type: ignore[misc]
            off = np.array([hand.x, hand.y]) - px[name][hand.frame]
            x, y = px[name][frame] + off + rng.normal(0, TRACK_U, 2)
            tracked.append(
                Observation(name, frame, float(x), float(y), TRACK_U, tracked=True, origin=hand.frame)
            )
    return tracked
