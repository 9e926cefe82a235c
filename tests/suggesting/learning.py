"""What moves the network's points onto the trade's marks, and the u that is left, learnt from films with
truth.

Each film is left out in turn, the numbers are found on the others, and the errors on the film left out are
what u has to cover: 95 of 100 coordinates within 2 u on the worst of them. So u speaks for a film that was
not there.

Between clicks errors change by a size of their own for each mark: the likeliest on these films and on two
of other builds, times SPARE for a film that was not there. With it 95 of 100 coordinates lie within 2 u on
each of these six left out in turn but the stout one, on which 92 do.

What errors of one clip have in common is learnt in `together.py`.
"""

from __future__ import annotations

import json
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import NDArray

from lessonpress.footage.pose.bodymarks import SINGLE, SUGGESTED, design, part_of, posture
from lessonpress.footage.pose.doubts import UNSURE
from lessonpress.footage.pose.learnt import FILE, LearntMark, LearntPath, way_of
from lessonpress.footage.pose.looks import looks_at
from lessonpress.footage.pose.person import SURE, person_in
from lessonpress.footage.pose.sides import sided
from lessonpress.footage.pose.suggesting import THERE, Guide
from lessonpress.footage.tracking.guided import Guidance, corrected
from lessonpress.records import View
from tests.suggesting.films import CLICK, Filmed
from tests.suggesting.together import Errors, lasting, pairs_of, trunk_of

Floats = NDArray[np.float64]

PARTS = tuple(dict.fromkeys(part_of(mark) for mark in SUGGESTED))
LIMBS = (
    ("hip", "knee"),
    ("knee", "ankle"),
    ("heel", "toe"),
    ("shoulder", "elbow"),
    ("elbow", "wrist"),
    ("shoulder", "hip"),
)
WITHIN = 0.95  # of coordinates, within 2 u
# carried between clicks by what is seen of the body; shoulders, elbows, wrists and the grip are too unsure
CARRIED = ("heel", "ankle", "toe", "knee", "hip", "navel", "c7", "head", "crown")
SIZES = np.geomspace(0.004, 0.06, 40).tolist()  # of the side, by which errors change between clicks
SPARE = 1.4  # times the likeliest size, for a film that was not there
SPREADS = (0.0, 0.5, 1.0, 1.5, 2.0, 3.0)
LEAST = 0.004  # of the square's side: one px of the network's picture
FAR = 0.005  # of the side: an error beyond it counts by its size, one below by its square
HOLD = 0.02  # of a ridge: numbers that the films do not show stay small


@dataclass(frozen=True)
class Studied:
    """A film as the network sees it, pictures without a body left out.

    points: (n, looks, 33, 3), the lead side first. side: (n,), px. px: each mark's true place, (n, 2).
    frames: the n pictures' numbers. events: frames of events. seconds: the real time of each picture of the
    film.
    """

    name: str
    view: View
    points: Floats
    side: Floats
    px: dict[str, Floats]
    frames: tuple[int, ...]
    events: tuple[int, ...]
    seconds: tuple[float, ...]


def studied(film: Filmed) -> Studied:
    """The film gone through with the network."""
    points, sides, frames = [], [], []
    for frame, picture in film.pictures:
        person = person_in(picture)
        if person.sure < SURE:
            continue
        looks = looks_at(picture, person.square)
        if looks.presence.min() < THERE:
            continue
        told = sided(looks.points, looks.side, film.view, film.hand)
        points.append(told.points)
        sides.append(looks.side)
        frames.append(frame)
    px = {mark: film.px[mark][frames] for mark in SUGGESTED}
    return Studied(
        film.name,
        film.view,
        np.array(points),
        np.array(sides),
        px,
        tuple(frames),
        film.events,
        film.seconds,
    )


def learn(films: Sequence[Studied], builds: Sequence[Studied]) -> dict[str, Any]:
    """What `learnt.json` holds. builds: films of other bodies, of which only paths are learnt."""
    across, along = ([film for film in films if way_of(film.view) == way] for way in ("across", "along"))
    learnt = {
        "films": [film.name for film in films],
        "builds": [film.name for film in builds],
        "across": _of_one_way(across, PARTS, builds, CARRIED),
        "along": _of_one_way(along, SINGLE, (), ()),
    }
    marks = {part: LearntMark(**found) for part, found in learnt["across"]["marks"].items()}
    left_out = [
        {part: errors_of(film, part, marks[part], numbers_of(_others(across, film), part)) for part in PARTS}
        for film in (*across, *builds)
    ]
    learnt["across"] |= {"pairs": pairs_of(left_out), "trunk": trunk_of(left_out)}
    learnt["along"] |= {"pairs": {}, "trunk": {}}
    learnt["lasts"], learnt["own"] = lasting(left_out)
    return learnt


def errors_of(film: Studied, part: str, mark: LearntMark, by: Floats) -> Errors:
    """Those of a part's marks on a film. by: numbers that were found without it."""
    seconds = np.array([film.seconds[frame] for frame in film.frames])
    off, u = {}, {}
    for name in _marks(part):
        rows = _errors_of_mark(film, name, by)
        u[name] = np.hypot(mark.least, mark.spread * rows[:, 2])
        given = u[name] <= UNSURE
        off[name] = np.where(given[:, None], rows[:, :2] / u[name][:, None], np.nan)
    return Errors(seconds, off, u)


def keep(learnt: dict[str, Any]) -> None:
    FILE.write_text(json.dumps(learnt, indent=1) + "\n", encoding="utf-8")


def _of_one_way(
    films: Sequence[Studied], parts: Sequence[str], builds: Sequence[Studied], carried: Sequence[str]
) -> dict[str, Any]:
    marks = {}
    for part in parts:
        least, spread = _u([_errors(film, part, numbers_of(_others(films, film), part)) for film in films])
        by = [round(float(number), 3) for number in numbers_of(films, part)]
        marks[part] = {"by": by, "least": round(least, 4), "spread": spread}
    paths = {
        part: {"size": round(SPARE * likeliest([*films, *builds], part, LearntMark(**marks[part])), 4)}
        for part in carried
    }
    return {"marks": marks, "paths": paths, "longest": _longest(films) if set(parts) > set(SINGLE) else []}


def likeliest(films: Sequence[Studied], part: str, mark: LearntMark) -> float:
    """The size of SIZES under which the errors between clicks are likeliest, as normal ones, each film
    counted as much (Rasmussen and Williams 2006, section 5.4, with what was left out in place of the clicks).
    """
    return max(SIZES, key=lambda size: np.mean([_likely(film, part, mark, size) for film in films]))


def _likely(film: Studied, part: str, mark: LearntMark, size: float) -> float:
    """The mean logarithm of the density of an error, px, between clicks at the film's events."""
    chance = np.random.default_rng(1)
    found: list[float] = []
    for name in _marks(part):
        guides = {
            frame: _guide(points, name, mark, side)
            for frame, points, side in zip(film.frames, film.points, film.side, strict=True)
        }
        guides = {frame: guide for frame, guide in guides.items() if guide.u <= UNSURE * guide.side}
        true = dict(zip(film.frames, film.px[name], strict=True))
        hand = {at: tuple(true[at] + chance.normal(0, CLICK, 2)) for at in film.events if at in true}
        guidance = Guidance(guides, LearntPath(size), film.seconds)
        for frame, one in corrected(hand, guidance).items():
            u = np.hypot(one.u, CLICK)
            found.extend(-np.log(u) - 0.5 * ((np.array(one.point) - true[frame]) / u) ** 2)
    return float(np.mean(found)) if found else 0.0


def _guide(points: Floats, name: str, mark: LearntMark, side: float) -> Guide:
    """As `pose.suggesting` would suggest it."""
    seen = design(points, name).moved(mark.by)
    x, y = np.median(seen, axis=0)
    spread = float(np.sqrt(np.mean((seen - (x, y)) ** 2)))
    return Guide((float(x), float(y)), mark.u(spread, side), side, posture(points))


def _others(films: Sequence[Studied], film: Studied) -> list[Studied]:
    return [other for other in films if other is not film]


def numbers_of(films: Sequence[Studied], part: str) -> Floats:
    """The numbers of a part, by least squares that count far errors less (weights again and again,
    Huber's).
    """
    rows = [_rows(film, mark) for film in films for mark in _marks(part)]
    ways, off = (np.concatenate([row[at] for row in rows]) for at in (0, 1))
    by = np.zeros(ways.shape[1])
    for _ in range(30):
        weight = np.minimum(1.0, FAR / np.maximum(np.abs(off - ways @ by), 1e-9))
        held = HOLD * np.eye(len(by))
        by = np.linalg.solve((ways * weight[:, None]).T @ ways + held, (ways * weight[:, None]).T @ off)
    return np.asarray(by)


def _rows(film: Studied, mark: str) -> tuple[Floats, Floats]:
    """(ways (2n, k), what they have to add up to (2n,)), in sides of the square."""
    ways, off = [], []
    for points, side, true in zip(film.points, film.side, film.px[mark], strict=True):
        found = design(points, mark)
        ways.append(found.ways.mean(axis=0) / side)
        off.append((true - found.start.mean(axis=0)) / side)
    return np.concatenate(ways), np.concatenate(off)


def _errors(film: Studied, part: str, by: Floats) -> Floats:
    """(n, 3): a coordinate's error, twice for each place, and what the looks differ by; in sides of the
    square.
    """
    return np.concatenate([_errors_of_mark(film, mark, by) for mark in _marks(part)])


def _errors_of_mark(film: Studied, mark: str, by: Floats) -> Floats:
    """Those of one mark, a row a picture."""
    rows = []
    for points, side, true in zip(film.points, film.side, film.px[mark], strict=True):
        seen = design(points, mark).moved(by)
        middle = np.median(seen, axis=0)
        spread = np.sqrt(np.mean((seen - middle) ** 2))
        rows.append((*(middle - true) / side, spread / side))
    return np.array(rows)


def _u(films: Sequence[Floats]) -> tuple[float, float]:
    """(least, spread) of the smallest u, on the mean of logarithms, that covers the errors of each film."""
    found = []
    for spread in SPREADS:
        least = max(LEAST, *(_least(errors, spread) for errors in films))
        size = np.mean([np.log(np.hypot(least, spread * errors[:, 2])).mean() for errors in films])
        found.append((float(size), least, spread))
    _, least, spread = min(found)
    return least, spread


def _least(errors: Floats, spread: float) -> float:
    """What u is at the least, so that WITHIN of the coordinates lie within 2 u."""
    return float(np.quantile(_beyond(errors, spread), WITHIN))


def _beyond(errors: Floats, share: float) -> Floats:
    """(2n,): what u has to be at the least for each coordinate to lie within 2 u, beside a share of column
    2.
    """
    beyond = np.sqrt(np.maximum((errors[:, :2] / 2) ** 2 - (share * errors[:, 2:]) ** 2, 0.0))
    return np.asarray(beyond.ravel())


def _longest(films: Sequence[Studied]) -> list[tuple[str, str, float]]:
    """For each limb the longest that was seen, of the square's side, by its true ends."""
    return [(one, other, round(max(_length(film, one, other) for film in films), 3)) for one, other in LIMBS]


def _length(film: Studied, one: str, other: str) -> float:
    lengths = [
        np.linalg.norm(film.px[f"{side}-{one}"] - film.px[f"{side}-{other}"], axis=1) / film.side
        for side in ("lead", "trail")
    ]
    return float(np.max(lengths))


def _marks(part: str) -> list[str]:
    return [mark for mark in SUGGESTED if part_of(mark) == part]
