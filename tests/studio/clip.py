"""Whole clip folders and whole sites with known truth, for tests of every room.

    clip = make_clip(folder)        # folder/clips/dune-face-on/: video, card, marks, truth
    clip = make_clip(folder, SHINGLE, rate=240, fps=30, dots=("implement-head",), tracked=("lead-wrist",))
    fall = make_drop(folder)        # physics: mark `ball`
    swing = make_pendulum(folder)   # marks `bob` and `pivot`

truth.json holds the camera, the true time of every picture, and for every mark its place in the picture (px)
and in swing coordinates (m); the truth of a measure comes from `clip.truth` (see truth.py).
"""

from __future__ import annotations

import csv
import json
from collections.abc import Collection, Mapping, Sequence
from dataclasses import asdict, dataclass
from pathlib import Path

import numpy as np
import yaml
from numpy.typing import NDArray
from scipy.integrate import solve_ivp

from lessonpress.records.view import View
from tests.studio.body import BALL_RADIUS, Swinger, vec
from tests.studio.camera import Camera, looking_at, to_view
from tests.studio.draw import Film, Solid, film_of
from tests.studio.film import encode
from tests.studio.room import INCH, Room
from tests.studio.swingers import DUNE
from tests.studio.truth import Truth, truth_of

Points = NDArray[np.float64]
STANDARD_GRAVITY = 9.80665  # m/s², CGPM 1901
WITHIN_CAMERA = 2 * INCH
STUDIO_CAMERA = looking_at((0.05, 0.92, 0.0), (0.05, 1.05, 14 * 12 * INCH), Camera(focal=1250.0))


@dataclass(frozen=True)
class MadeClip:
    """A clip on disk and what is true of it.

    times: real seconds of each picture. px: mark -> (n, 2), its place in each picture.
    """

    name: str
    folder: Path
    video: Path
    camera: Camera
    times: Points
    events: dict[str, int]
    truth: Truth
    px: dict[str, Points]

    def seconds(self, event: str) -> float:
        """Real time of the picture that an event names."""
        return float(self.times[self.events[event]])


def frame_times(duration: float, rate: float | Sequence[tuple[int, float]]) -> Points:
    """Real time of each picture; rate in pictures a second, or [(from frame, rate), …] as on a card."""
    steps = [(0, float(rate))] if isinstance(rate, int | float) else [(f, float(r)) for f, r in rate]
    times = [0.0]
    while times[-1] < duration:
        now = next(r for f, r in reversed(steps) if f <= len(times) - 1)
        times.append(times[-1] + 1 / now)
    return np.array(times)


def make_clip(
    folder: Path,
    swinger: Swinger = DUNE,
    camera: Camera = STUDIO_CAMERA,
    rate: float | Sequence[tuple[int, float]] = 60,
    *,
    name: str = "",
    view: View = "face-on",
    fps: float | None = None,
    placed: Collection[str] | None = None,
    at: Collection[str] = ("setup", "top", "impact", "finish"),
    tracked: Collection[str] = (),
    clicks: float = 0.0,
    card: Mapping[str, object] | None = None,
    video: Path | None = None,
    times: Points | None = None,
    **how: object,
) -> MadeClip:
    """Film a swinger and write the clip's folder, `folder`/clips/NAME.

    rate: pictures a second of real time; fps: of the file, the same unless given (then the card says
    `filmed_at`). placed: marks written to marks.yaml at the instants `at` (all known if None); tracked: marks
    written to tracks.csv on all frames. clicks: standard deviation in px of the error put on placed marks.
    card: keys that replace those of the card (None removes one). video: use this film, draw none. times: real
    seconds of each picture, instead of those that follow from rate. how: `dots`, `strip`, `shutter`,
    `readout`, `noise`, `room` of draw.Film, `clothes`.
    """
    name = name or f"{swinger.name.lower()}-{view}"
    where = folder / "clips" / name
    where.mkdir(parents=True, exist_ok=True)
    times = frame_times(swinger.duration, rate) if times is None else times
    film = film_of(swinger, camera, view, **how)
    path = where / f"{name}.mp4" if video is None else video
    played = fps or (rate if isinstance(rate, int | float) else 30)
    if video is None:
        encode(path, film.pictures(times.tolist()), fps=int(played))
    events = {e: int(np.argmin(np.abs(times - t))) for e, t in swinger.events.items()}
    px = seen(film, times)
    clip = MadeClip(name, where, path, camera, times, events, truth_of(swinger, camera, view), px)
    filmed_at: object = rate if isinstance(rate, int | float) else [list(step) for step in rate]
    written = _card(swinger, clip, view, film, None if filmed_at == played else filmed_at)
    written.update(card or {})
    write_yaml(where / "clip.yaml", {k: v for k, v in written.items() if v is not None})
    frames = sorted({events[a] if isinstance(a, str) else a for a in at})
    room = list(film.room.marks)
    names = [n for n in px if n not in room] if placed is None else [n for n in placed if n not in room]
    write_marks(where / "marks.yaml", px, names, frames, room, clicks, size=camera.size)
    if tracked:
        write_tracks(where / "tracks.csv", px, tracked, clip.camera.size)
    write_truth(where / "truth.json", clip)
    return clip


def seen(film: Film, times: Points) -> dict[str, Points]:
    """Every mark's place in every picture: name -> (n, 2) in px."""
    marks = [film.marks(float(t)) for t in times]
    places = [
        film.camera.at(float(t)).project(np.array(list(at.values())))
        for t, at in zip(times, marks, strict=True)
    ]
    return {name: np.array([px[number] for px in places]) for number, name in enumerate(marks[0])}


def _card(swinger: Swinger, clip: MadeClip, view: View, film: Film, filmed_at: object) -> dict[str, object]:
    camera = clip.camera
    wall = camera.distance_to(np.array([0.0, 0.0, -film.room.wall]))
    return {
        "video": clip.video.name,
        "view": view,
        "hand": swinger.hand,
        "filmed_at": filmed_at,
        "filmed_on": "2026-10-12",
        "source": {"kind": "own", "credit": "Drawn for tests", "licence": "CC0 1.0"},
        "people": [],
        "events": dict(clip.events),
        "stature": f"{swinger.stature / INCH:g} in",
        "middles": {"pelvis": ["trail-hip", "lead-hip"], "stance": ["trail-ankle", "lead-ankle"]},
        "room": list(film.room.marks),
        "scale": [{"between": ["stick-top", "stick-foot"], "length": "36 in", "within": "0.1 in"}],
        "camera": {
            "distance": f"{camera.distance:.3f} m",
            "within": f"{WITHIN_CAMERA:.3f} m",
            "wall": f"{wall:.3f} m",
            "wall_within": f"{WITHIN_CAMERA:.3f} m",
            "still": camera.sway is None,
        },
        "plumb": [["door-top", "door-foot"], ["cord-top", "cord-foot"]],
        "lens": _lens(camera),
    }


def _lens(camera: Camera) -> dict[str, object] | None:
    if not camera.k1 and not camera.k2:
        return None
    lens: dict[str, object] = {"k1": camera.k1, "k2": camera.k2, "focal": f"{camera.focal:g} px"}
    return lens if camera.centre is None else {**lens, "centre": list(camera.centre)}


def write_yaml(path: Path, data: Mapping[str, object]) -> None:
    text = yaml.safe_dump(dict(data), sort_keys=False, allow_unicode=True, default_flow_style=None, width=110)
    path.write_text(text, encoding="utf-8")


def write_marks(
    path: Path,
    px: Mapping[str, Points],
    names: Collection[str],
    frames: Sequence[int],
    room: Collection[str] = (),
    clicks: float = 0.0,
    digits: int = 2,
    size: tuple[int, int] = (1 << 20, 1 << 20),
) -> None:
    """marks.yaml: `names` on those of `frames` that show them; room marks once, on the first picture."""
    rng = np.random.default_rng(11)
    lines = []
    for name in [*names, *room]:
        lines.append(f"{name}:")
        for frame in frames if name not in room else (0,):
            x, y = px[name][frame] + rng.normal(0, clicks, 2) if clicks else px[name][frame]
            if 0 <= x <= size[0] and 0 <= y <= size[1]:
                lines.append(f"  {frame}: [{x:.{digits}f}, {y:.{digits}f}]")
    path.write_text("\n".join(lines) + "\n", encoding="utf-8")


def write_tracks(
    path: Path, px: Mapping[str, Points], names: Collection[str], size: tuple[int, int], u: float = 0.3
) -> None:
    """tracks.csv: `names` on every picture that shows them."""
    with path.open("w", encoding="utf-8", newline="") as file:
        rows = csv.writer(file, lineterminator="\n")
        rows.writerow(["mark", "frame", "x", "y", "u"])
        for name in names:
            for frame, (x, y) in enumerate(px[name]):
                if 0 <= x <= size[0] and 0 <= y <= size[1]:
                    rows.writerow([name, frame, f"{x:.2f}", f"{y:.2f}", f"{u:.2f}"])


def write_truth(path: Path, clip: MadeClip) -> None:
    """truth.json: camera, times and marks of every picture."""
    places = {name: [] for name in clip.truth.where(0.0)}  # type: dict[str, list[list[float]]]
    for t in clip.times:
        for name, place in clip.truth.where(float(t)).items():
            places[name].append([round(float(v), 4) for v in place])
    data = {
        "clip": clip.name,
        "view": clip.truth.view,
        "hand": clip.truth.hand,
        "camera": {**asdict(clip.camera), "distance": clip.camera.distance},
        "events": clip.events,
        "times": [round(float(t), 6) for t in clip.times],
        "metres": places,
        "px": {name: np.round(where, 2).tolist() for name, where in clip.px.items()},
    }
    path.write_text(json.dumps(data, separators=(",", ":")), encoding="utf-8")


def _physics_clip(
    folder: Path,
    name: str,
    film: Film,
    truth: Truth,
    times: Points,
    events: dict[str, int],
    tracked: Sequence[str],
    fps: int | None = None,
) -> MadeClip:
    where = folder / "clips" / name
    where.mkdir(parents=True, exist_ok=True)
    path = where / f"{name}.mp4"
    rate = round(1 / float(np.diff(times).max()))
    encode(path, film.pictures(times.tolist()), fps=fps or rate)
    px = seen(film, times)
    clip = MadeClip(name, where, path, film.camera, times, events, truth, px)
    slowed = fps is not None and fps < rate
    card = _card(DUNE, clip, "face-on", film, rate if slowed else None)
    for key in ("stature", "middles"):
        del card[key]
    # both marks move in the subject plane itself
    card["depth"] = {mark: {"toward": "0 in", "within": "0.1 in"} for mark in tracked}
    write_yaml(where / "clip.yaml", {k: v for k, v in card.items() if v is not None})
    write_marks(where / "marks.yaml", px, tracked, [0], list(film.room.marks))
    write_truth(where / "truth.json", clip)
    return clip


def make_drop(
    folder: Path,
    rate: int = 120,
    name: str = "drop",
    mark: str = "ball",
    radius: float = 2 * BALL_RADIUS,
    times: Points | None = None,
    fps: int | None = None,
    **how: object,
) -> MadeClip:
    """A ball let fall from rest in the subject plane under standard gravity; events `setup` and `impact`.

    The first picture shows the moment of release, the last one the ball above the floor. mark: its name;
    without its depth on the card, `ball` is taken for that on the tee, others for things unknown. radius: m.
    times: real seconds of each picture instead of those that follow from rate; fps: of the file, where it is
    another; slower than the pictures were taken, the card says `filmed_at`.
    """
    height = 1.9
    fall = float(np.sqrt(2 * (height - 0.1) / STANDARD_GRAVITY))
    times = np.arange(int(fall * rate) + 1) / rate if times is None else times

    def where(t: float) -> dict[str, Points]:
        return {mark: vec(0.12, height - STANDARD_GRAVITY * t * t / 2, 0)}

    def actor(t: float) -> list[Solid]:
        middle = to_view(where(t)[mark][None], "face-on", "right")
        return [
            Solid(middle, (radius,), (210, 60, 40)),
            Solid(middle, (0.2 * radius,), (20, 20, 20)),
        ]

    room = Room()
    film = Film(actor, lambda t: {**where(t), **room.marks}, STUDIO_CAMERA, room, **how)  # type: ignore[arg-type]
    events = {"setup": 0, "impact": len(times) - 1}
    return _physics_clip(folder, name, film, Truth(where, film.camera), times, events, [mark], fps)


PENDULUM_LENGTH = 0.994  # m, near the seconds pendulum's


def make_pendulum(
    folder: Path, rate: int = 60, swings: float = 2.2, name: str = "pendulum", **how: object
) -> MadeClip:
    """A bob on a thread in the subject plane, let go at 5° and followed by its full equation of motion.

    θ'' = −(g/L) sin θ, solved to 1e-10. Marks: `bob`, `pivot`. Event `setup` is the release.
    """
    period = 2 * np.pi * np.sqrt(PENDULUM_LENGTH / STANDARD_GRAVITY)
    times = np.arange(int(swings * period * rate) + 1) / rate
    solved = solve_ivp(
        lambda _, s: [s[1], -STANDARD_GRAVITY / PENDULUM_LENGTH * np.sin(s[0])],
        (0, float(times[-1]) + 0.1), [np.radians(5), 0], rtol=1e-10, atol=1e-12, dense_output=True,
    )  # fmt: skip
    pivot = vec(0, 1.75, 0)

    def where(t: float) -> dict[str, Points]:
        angle = float(solved.sol(max(t, 0.0))[0])
        return {"pivot": pivot, "bob": pivot + PENDULUM_LENGTH * vec(np.sin(angle), -np.cos(angle), 0)}

    def actor(t: float) -> list[Solid]:
        ends = to_view(np.array([where(t)["pivot"], where(t)["bob"]]), "face-on", "right")
        bob = ends[1:]
        return [
            Solid(ends, (0.004, 0.004), (40, 40, 44)),
            Solid(bob, (0.045,), (40, 70, 150)),
            Solid(bob, (0.012,), (250, 250, 250)),
        ]

    room = Room()
    film = Film(actor, lambda t: {**where(t), **room.marks}, STUDIO_CAMERA, room, **how)  # type: ignore[arg-type]
    events = {"setup": 0, "finish": len(times) - 1}
    return _physics_clip(folder, name, film, Truth(where, film.camera), times, events, ["bob", "pivot"])
