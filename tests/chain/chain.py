"""A site written round drawn clips and read as the program reads it, from video to printed numbers.

Lessons are printed in centimetres, metres a second, degrees and per cent, so that a number of the ledger
compares with a truth in metres by the factor of its unit alone.
"""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterable, Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import numpy as np
from numpy.typing import NDArray

from lessonpress.figures.bind.surveyed_clip import SurveyedClip, survey_clip
from lessonpress.intake.carry import carry_mark, keep_tracks, stretch_to_carry
from lessonpress.intake.clip import open_clip
from lessonpress.manuscript import read_site
from lessonpress.press.cache import Cache
from lessonpress.press.file_hashes import FileHashes
from lessonpress.press.indexes import indexes_of
from lessonpress.press.progress import Silent
from lessonpress.press.studies import studies_of
from lessonpress.records.measure import Measure
from lessonpress.records.problem import Problems
from tests.reading import Reading, read_and_bind
from tests.studio.clip import MadeClip

Points = NDArray[np.float64]
TO_PRINT = {"cm": 100.0, "in": 1 / 0.0254, "m/s": 1.0, "deg": 1.0, "%": 1.0, None: 1.0}
CLICK_U = 1.5 / 720  # of the picture's shorter side, each axis: the stated default of a click
TRACK_U = 0.3  # px
ROOM = ("stick", "door", "cord", "wall")  # what the names of marks that do not move begin with


@dataclass(frozen=True)
class Asked:
    """A number that a lesson asks for. overlay: as YAML, without its `as`. truth: m, m/s, deg or per cent."""

    id: str
    overlay: str
    truth: Callable[[MadeClip], float]
    at: str = "impact"


def write_site(root: Path, units: str = "cm", more: str = "") -> Path:
    """site.yaml of a small site; more: further lines of it."""
    root.mkdir(parents=True, exist_ok=True)
    (root / "lessons").mkdir(exist_ok=True)
    (root / "site.yaml").write_text(
        "title: Drawn Notebook\nauthor: The Studio\nurl: https://notebook.example/\nlanguage: en\n"
        f"units: {units}\n{more}",
        encoding="utf-8",
    )
    return root


def write_lesson(root: Path, name: str, clip: str, *blocks: str, prose: str = "", day: int = 20) -> None:
    """lessons/NAME.md with these figure blocks, each written whole."""
    front = f"---\ntitle: {name.capitalize()}\ndate: 2026-11-{day}\nsummary: Numbers.\nclip: {clip}\n---\n"
    text = "\n\n".join([front, prose, *blocks])
    (root / "lessons" / f"{name}.md").write_text(text + "\n", encoding="utf-8")


def frame(asked: Asked) -> str:
    """A figure block that draws one overlay at its instant."""
    return figure("frame", f"the-{asked.id}", f"at: {asked.at}", f"{asked.overlay}\nas: {asked.id}")


def figure(kind: str, name: str, head: str, *overlays: str) -> str:
    """A figure block: its kind, id, the lines before `draw`, and each overlay's lines."""
    drawn = "\n".join("  - " + overlay.replace("\n", "\n    ") for overlay in overlays)
    return f"```{kind}\nid: {name}\n{head}\ndraw:\n{drawn}\n```"


def numbers(root: Path, lesson: str) -> dict[str, Measure]:
    """The lesson's ledger, read from disk. Fails on any error of the site."""
    reading = sound(root)
    bound = reading.lesson(lesson)
    return bound.measures


def sound(root: Path) -> Reading:
    """The site read; fails on any error."""
    reading = read_and_bind(root)
    assert not reading.problems.errors, [(p.location, p.wrong) for p in reading.problems.errors]
    assert reading.bound is not None
    return reading


def filmed(root: Path, clip: str) -> SurveyedClip:
    """One clip as figures see it, with its survey, for what no single number prints."""
    site, problems = read_site(root)
    assert site is not None and not problems.errors, problems.errors
    cache, clips = Cache(root / "build" / "cache"), [site.clips[clip]]
    indexes = indexes_of(clips, FileHashes(), cache, Silent(), problems)
    studies = studies_of(clips, indexes, cache, Silent(), problems)
    found = survey_clip(site.clips[clip], studies[clip], site.units, problems)
    assert found is not None and not problems.errors, problems.errors
    return found


def holds(measure: Measure, truth: float) -> bool:
    """Whether the interval of a printed number, in its unit, holds a truth in m, m/s, deg or per cent."""
    assert measure.value is not None and measure.low is not None and measure.high is not None, measure.refused
    true = truth * TO_PRINT[measure.unit]
    if measure.dimension == "clock":
        true = measure.value + (true - measure.value + 180) % 360 - 180
    return measure.low <= true <= measure.high


def told(measure: Measure, truth: float) -> str:
    """A number beside its truth, for a failing test to show."""
    true = truth * TO_PRINT[measure.unit]
    return f"{measure.id}: {measure.value} ± {measure.uncertainty} {measure.unit}, true {true}"


def sight(
    clip: MadeClip,
    placed: Mapping[str, Collection[int]],
    tracked: Mapping[str, Iterable[int]],
    seed: int | None = None,
    room_u: float | None = None,
) -> None:
    """Write the clip's marks anew: hand-placed ones and tracks, exact, or (seed) with the error they state.

    placed, tracked: mark → frames. A click errs by its default u; a tracked place by its own u and by the
    click of the nearest hand-placed frame, which it was carried from. room_u: what the room's marks state.
    """
    rng = None if seed is None else np.random.default_rng([seed, 5])
    click = CLICK_U * min(clip.camera.size)
    room = {name: (0,) for name in clip.px if name.split("-")[0] in ROOM}
    errors: dict[tuple[str, int], Points] = {}
    lines = []
    for name, frames in {**placed, **room}.items():
        placings = []
        stated = room_u if name in room else None
        for number in sorted(set(frames)):
            u = click if stated is None else stated
            errors[name, number] = np.zeros(2) if rng is None else rng.normal(0, u, 2)
            x, y = clip.px[name][number] + errors[name, number]
            if 0 <= x <= clip.camera.size[0] and 0 <= y <= clip.camera.size[1]:
                placings.append(f"  {number}: [{x:.2f}, {y:.2f}{'' if stated is None else f', {stated}'}]")
        lines += [f"{name}:", *placings] if placings else []
    (clip.folder / "marks.yaml").write_text("\n".join(lines) + "\n", encoding="utf-8")
    rows = ["mark,frame,x,y,u"]
    for name, frames in tracked.items():
        for number in frames:
            if (name, number) in errors:
                continue
            origin = min(placed[name], key=lambda hand, at=number: (abs(hand - at), hand))
            own = np.zeros(2) if rng is None else rng.normal(0, TRACK_U, 2)
            x, y = clip.px[name][number] + own + errors[name, origin]
            rows.append(f"{name},{number},{x:.2f},{y:.2f},{TRACK_U}")
    (clip.folder / "tracks.csv").write_text("\n".join(rows) + "\n", encoding="utf-8")


def track(root: Path, clip: str, *marks: str, first: int | None = None, last: int | None = None) -> Any:
    """What `lessonpress track CLIP MARK…` does: carries the marks and keeps them. Mark → its track."""
    opened, problems = open_clip(root, clip)
    assert opened is not None and not problems.errors, problems.errors
    made = {}
    for mark in marks:
        start, end = stretch_to_carry(opened.clip, mark, len(opened.index))
        made[mark] = carry_mark(
            opened.clip,
            opened.index,
            mark,
            start if first is None else first,
            end if last is None else last,
        )
    keep_tracks(opened.clip, made)
    return made


def wrongs(problems: Problems) -> str:
    """All errors and warnings in one text."""
    return "\n".join(
        f"{p.location.path}:{p.location.line}: {p.wrong} ({p.right})" for p in problems.collected
    )


def root_of(clip: MadeClip) -> Path:
    """The site's folder."""
    return clip.folder.parent.parent


def bodies(clip: MadeClip) -> list[str]:
    """The clip's marks that move with the golfer."""
    return [name for name in clip.px if name.split("-")[0] not in (*ROOM, "ball")]
